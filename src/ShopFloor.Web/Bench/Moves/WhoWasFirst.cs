using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Bench.Moves;

/// <summary>Tells the second person who was first, when both tapped the same step.</summary>
internal static class WhoWasFirst
{
    private const string NothingMore = " Nothing more to do here.";

    /// <summary>A word about the step that is not up any more; null when it simply is not its turn.</summary>
    internal static async Task<Refusal?> AskAsync(CommandWork work, Piece piece, int step, WorkState wanted)
    {
        var item = piece.Items.FirstOrDefault(i => i.Number == step);
        var was = item?.State switch
        {
            WorkState.Done => "finished",
            WorkState.Running when wanted == WorkState.Running => "started",
            _ => null,
        };
        if (item is null || was is null || item.Kind == Domain.Recipes.StepKind.Rest)
            return null;
        var last = await work.Context.Journal.Where(j => j.Piece == piece.Id).OrderByDescending(j => j.Sequence).Take(20).ToListAsync();
        var entry = last.Find(j => Concerns(j.Read(), step, item.State));
        var ago = entry is null ? "" : $" {Ago(work.Now - entry.At)}";
        return new Refusal(
            "already-done",
            $"{piece.Code}: {StepWords.Of(item.Settings)} was {was}{ago}{await NameAsync(work, entry?.By)}. Nothing more to do here."
        );
    }

    /// <summary>The same where others of the tray are still to be done.</summary>
    internal static Refusal OnlySaid(Refusal faster) =>
        faster with
        {
            Text = faster.Text.Replace(NothingMore, "", StringComparison.Ordinal),
        };

    /// <summary>A word about the batch that runs already, or does not run any more.</summary>
    internal static async Task<Refusal> OfBatchAsync(CommandWork work, Batch batch, string code)
    {
        var begun = batch.State == BatchState.Running;
        var ids = batch.Places.Select(p => p.Piece).ToList();
        var since = batch.StartedAt ?? work.Now;
        var entries = await work.Context.Journal.Where(j => ids.Contains(j.Piece) && j.At >= since).OrderBy(j => j.Sequence).ToListAsync();
        var entry = begun
            ? entries.Find(j => j.Read() is StepStarted s && s.Batch == batch.Id)
            : entries.Find(j => j.Read() is StepFinished or StepBrokenOff && j.At >= (batch.FinishedAt ?? work.Now));
        var when = entry is null ? "before" : $"{Ago(work.Now - entry.At)}{await NameAsync(work, entry.By)}";
        return new Refusal(
            code,
            batch.State switch
            {
                BatchState.Running => $"{batch.Code} was started {when}. Nothing more to do here.",
                BatchState.Done => $"{batch.Code} was finished {when}. Nothing more to do here.",
                BatchState.Stopped => $"{batch.Code} was stopped {when}. Nothing more to do here.",
                _ => $"{batch.Code} was given up. Nothing more to do here.",
            }
        );
    }

    private static bool Concerns(PieceEvent happened, int step, WorkState state) =>
        happened switch
        {
            StepFinished f => state == WorkState.Done && f.Step == step,
            StepStarted s => state == WorkState.Running && s.Step == step,
            _ => false,
        };

    private static async Task<string> NameAsync(CommandWork work, string? by)
    {
        if (!Guid.TryParse(by, out var id))
            return "";
        var name = await work.Context.Users.Where(u => u.Id == id).Select(u => u.DisplayName).FirstOrDefaultAsync();
        return string.IsNullOrEmpty(name) ? "" : $" by {name}";
    }

    private static string Ago(TimeSpan ago) =>
        ago.TotalSeconds < 60 ? "just now" : $"{StepWords.Span((long)Math.Min(ago.TotalMinutes, 6000) * 60)} ago";
}

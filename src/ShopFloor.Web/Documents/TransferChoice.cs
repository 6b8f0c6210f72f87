using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Reading;
using Piece = ShopFloor.Domain.Pieces.Piece;
using StepKind = ShopFloor.Domain.Recipes.StepKind;

namespace ShopFloor.Web.Documents;

/// <summary>A piece and what its transfer is printed together with: a session, or all of an order.</summary>
internal sealed record ChosenPiece(Piece Piece, string Group);

/// <summary>Which transfers a print is of.</summary>
/// <param name="Title">At the head of each sheet.</param>
/// <param name="Pieces">The pieces in order.</param>
/// <param name="IsDay">A whole day: what cannot be printed is left out and told. Else nothing is printed unless all of it can be.</param>
internal sealed record TransferChoice(string Title, IReadOnlyList<ChosenPiece> Pieces, bool IsDay)
{
    /// <summary>Finds them.</summary>
    public static Result<TransferChoice> Of(OpenWork work, PaperWish wish, ReadPlan? plan)
    {
        if (wish.Day is { } day)
            return OfDay(work, day, plan);
        var batch = work.Batches.FirstOrDefault(b => b.Code == wish.Subject && b.Kind == BatchKind.PressSession);
        var pieces = batch is null
            ? [.. work.Pieces.Where(p => work.Orders[p.Order].Number.ToString(CultureInfo.InvariantCulture) == wish.Subject)]
            : work.MembersOf(batch).ToList();
        if (pieces.Count == 0)
            return new Refusal("paper-nothing", $"There is no press session and no order {wish.Subject} with open pieces.");
        return new TransferChoice(
            batch is null ? $"Order {wish.Subject}" : "Press session",
            [.. pieces.Select(p => new ChosenPiece(p, batch?.Code ?? ""))],
            IsDay: false
        );
    }

    /// <summary>The piece is still to be taped, so it still needs its transfer.</summary>
    public static bool NeedsTransfer(Piece piece) => piece.Items.Any(i => i is { Kind: StepKind.Tape, IsClosed: false });

    private static Result<TransferChoice> OfDay(OpenWork work, DateOnly day, ReadPlan? plan)
    {
        var open = work.Pieces.Where(NeedsTransfer).ToDictionary(p => p.Code, StringComparer.Ordinal);
        List<ChosenPiece> chosen = [];
        foreach (var (batch, start) in Sessions(plan, day, work))
        {
            var group = string.Create(CultureInfo.CurrentCulture, $"{start:t} {PlannedName.Of(batch.Id)}");
            chosen.AddRange(batch.Places.Where(p => open.ContainsKey(p.Piece)).Select(p => new ChosenPiece(open[p.Piece], group)));
        }
        return chosen.Count > 0
            ? new TransferChoice(day.ToString("D", CultureInfo.CurrentCulture), chosen, IsDay: true)
            : new Refusal("paper-nothing", $"No press session of {day.ToString("D", CultureInfo.CurrentCulture)} needs transfers.");
    }

    private static IEnumerable<(Planning.Exchange.Batch Batch, DateTime Start)> Sessions(ReadPlan? plan, DateOnly day, OpenWork work) =>
        plan is null
            ? []
            : plan
                .Plan.Batches.Where(b => b.Kind == BatchKinds.Session)
                .Select(b => (Batch: b, First: plan.Plan.Tasks.Where(t => t.Batch == b.Id).Select(t => (int?)t.StartS).Min()))
                .Where(b => b.First is not null)
                .Select(b => (b.Batch, Start: TimeZoneInfo.ConvertTime(plan.Instant(b.First!.Value), work.Settings.Zone).DateTime))
                .Where(b => DateOnly.FromDateTime(b.Start) == day)
                .OrderBy(b => b.Start);
}

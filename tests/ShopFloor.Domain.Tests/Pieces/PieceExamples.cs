using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Domain.Tests.Pieces;

/// <summary>A piece on a whole way, and the journal it would have.</summary>
internal sealed class PieceOnItsWay
{
    internal static readonly DateTimeOffset Start = new(2026, 3, 4, 9, 0, 0, TimeSpan.Zero);

    /// <summary>The shipped recipe with white ground: every kind of step and window is in it.</summary>
    internal static IReadOnlyList<RecipeStep> Steps { get; } = ShippedRecipes.All.First(r => r.Finish == Finish.WhiteGround).Steps;

    private readonly List<JournalLine> journal = [];
    private int entries;

    internal PieceOnItsWay(string? tray = null, IReadOnlyList<RecipeStep>? steps = null)
    {
        Piece = new Piece(new PieceId(Id(1)));
        Happen(
            Id(100),
            new PieceBooked(Start, "4KT9XM", new OrderId(Id(2)), new OrderLineId(Id(3)), 1, tray is null, tray, steps ?? Steps)
        );
    }

    internal Piece Piece { get; }

    internal IReadOnlyList<JournalLine> Journal => journal;

    internal DateTimeOffset Now { get; private set; } = Start;

    internal static Guid Id(int number) => new(number, 0, 0, [0, 0, 0, 0, 0, 0, 0, 0]);

    internal void Wait(double seconds) => Now = Now.AddSeconds(seconds);

    internal void Happen(Guid command, PieceEvent happened)
    {
        journal.Add(new JournalLine(new EntryId(Id(1000 + entries++)), command, happened));
        Piece.Apply(happened);
    }

    /// <summary>Lets an answer happen when it is an event; true then.</summary>
    internal bool Try(Guid command, Result<PieceEvent> answer)
    {
        if (answer.IsOk)
            Happen(command, answer.Value);
        return answer.IsOk;
    }

    /// <summary>Takes the last command back; true when that was possible.</summary>
    internal bool Undo()
    {
        if (UndoRule.Last(journal) is not { } last)
            return false;
        var undo = UndoRule.TakeBack(journal, last[0].Command, Now, "tapped by mistake");
        if (!undo.IsOk)
            return false;
        Happen(Id(900_000 + entries), undo.Value);
        Piece.Replay([.. journal.Select(l => (l.Id, l.Event))]);
        return true;
    }

    /// <summary>Works the piece up to before a step, each wait as long as it must be.</summary>
    internal void WorkTo(StepKind kind, int nth = 1)
    {
        Try(Id(200), Piece.Receive(Now));
        for (var command = 300; Piece.NextAttended is { } next && !(next.Kind == kind && --nth == 0); command += 10)
        {
            WaitBefore(next);
            Must(command, Piece.Start(next.Number, Now));
            if (next.Kind == StepKind.Tape)
                Must(command + 1, Piece.Bind(null, "Ada", Now));
            Wait(next.Kind.HasWindow() ? next.Settings.MinSeconds : next.Settings.LengthSeconds);
            Must(command + 2, Piece.Finish(next.Number, Now));
        }
        if (Piece.NextAttended is { } up)
            WaitBefore(up);
    }

    /// <summary>What counts of a piece, for comparing.</summary>
    internal static string Facts(Piece p) =>
        string.Join(
            '|',
            [
                $"{p.State} {p.HeldFrom} {p.Reason} {p.Reworks} {p.IsBound} {p.BoundText} {p.Code} {p.Tray}",
                .. p
                    .Items.OrderBy(i => i.Number)
                    .Select(i =>
                        $"{i.Number} {i.Kind} {i.State} {i.StartedAt:O} {i.FinishedAt:O} {i.Batch} {i.Can} {i.Measured} {i.Decision}"
                    ),
            ]
        );

    private void WaitBefore(WorkItem next)
    {
        if (Piece.Items.FirstOrDefault(i => i.Number == next.Number - 1) is { State: WorkState.Running, StartedAt: { } rests } rest)
            Now = rests.AddSeconds(rest.Settings.MinSeconds) > Now ? rests.AddSeconds(rest.Settings.MinSeconds) : Now;
    }

    private void Must(int command, Result<PieceEvent> answer) =>
        Assert.True(Try(Id(command), answer), answer.Refusals.Count > 0 ? answer.Refusals[0].Text : "");
}

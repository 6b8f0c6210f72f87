namespace ShopFloor.Domain.Pieces;

/// <summary>The one table of what a piece may do in which state. A move that is not in it is refused.</summary>
public static class PieceTransitions
{
    private static readonly Dictionary<(PieceState From, PieceMove Move), PieceState> Table = new()
    {
        [(PieceState.Booked, PieceMove.Receive)] = PieceState.Received,
        [(PieceState.Booked, PieceMove.Return)] = PieceState.Returned,
        [(PieceState.Received, PieceMove.Start)] = PieceState.InWork,
        [(PieceState.Received, PieceMove.Skip)] = PieceState.InWork,
        [(PieceState.Received, PieceMove.Hold)] = PieceState.Held,
        [(PieceState.Received, PieceMove.Spoil)] = PieceState.Spoiled,
        [(PieceState.Received, PieceMove.Return)] = PieceState.Returned,
        [(PieceState.Received, PieceMove.CallOff)] = PieceState.GoingBack,
        [(PieceState.InWork, PieceMove.Start)] = PieceState.InWork,
        [(PieceState.InWork, PieceMove.Finish)] = PieceState.InWork,
        [(PieceState.InWork, PieceMove.BreakOff)] = PieceState.InWork,
        [(PieceState.InWork, PieceMove.Skip)] = PieceState.InWork,
        [(PieceState.InWork, PieceMove.Hold)] = PieceState.Held,
        [(PieceState.InWork, PieceMove.Rework)] = PieceState.Reworking,
        [(PieceState.InWork, PieceMove.Spoil)] = PieceState.Spoiled,
        [(PieceState.Reworking, PieceMove.Start)] = PieceState.Reworking,
        [(PieceState.Reworking, PieceMove.Finish)] = PieceState.Reworking,
        [(PieceState.Reworking, PieceMove.BreakOff)] = PieceState.Reworking,
        [(PieceState.Reworking, PieceMove.Skip)] = PieceState.Reworking,
        [(PieceState.Reworking, PieceMove.Hold)] = PieceState.Held,
        [(PieceState.Reworking, PieceMove.Rework)] = PieceState.Reworking,
        [(PieceState.Reworking, PieceMove.Spoil)] = PieceState.Spoiled,
        // What was put aside while it lay in the oven still has to come out: the step ends, the piece stays aside.
        [(PieceState.Held, PieceMove.Finish)] = PieceState.Held,
        [(PieceState.Held, PieceMove.BreakOff)] = PieceState.Held,
        // A released piece goes back to where it was held from, which it remembers; the table only says that it may.
        [(PieceState.Held, PieceMove.Release)] = PieceState.InWork,
        [(PieceState.Held, PieceMove.Spoil)] = PieceState.Spoiled,
        [(PieceState.Held, PieceMove.Return)] = PieceState.Returned,
        [(PieceState.Held, PieceMove.CallOff)] = PieceState.GoingBack,
        [(PieceState.GoingBack, PieceMove.Return)] = PieceState.Returned,
        [(PieceState.Held, PieceMove.Rework)] = PieceState.Reworking,
        [(PieceState.CheckedGood, PieceMove.Start)] = PieceState.CheckedGood,
        [(PieceState.CheckedGood, PieceMove.Finish)] = PieceState.CheckedGood,
        [(PieceState.CheckedGood, PieceMove.BreakOff)] = PieceState.CheckedGood,
        [(PieceState.CheckedGood, PieceMove.Skip)] = PieceState.CheckedGood,
        [(PieceState.CheckedGood, PieceMove.Rework)] = PieceState.Reworking,
        [(PieceState.CheckedGood, PieceMove.Hold)] = PieceState.Held,
        [(PieceState.CheckedGood, PieceMove.Spoil)] = PieceState.Spoiled,
        [(PieceState.CheckedGood, PieceMove.HandOver)] = PieceState.HandedOver,
    };

    /// <summary>The state after the move, or a refusal that says why not.</summary>
    public static Result<PieceState> Next(PieceState from, PieceMove move) =>
        Table.TryGetValue((from, move), out var next)
            ? next
            : new Refusal("move-not-allowed", $"A piece that is {Words(from)} cannot be {Words(move)}.");

    /// <summary>True when the table has the move.</summary>
    public static bool Allows(PieceState from, PieceMove move) => Table.ContainsKey((from, move));

    /// <summary>True for the states in which nothing more is made of a piece.</summary>
    public static bool IsEnd(this PieceState state) =>
        state is PieceState.HandedOver or PieceState.Spoiled or PieceState.Returned or PieceState.GoingBack;

    /// <summary>True while it is still one of its order's: neither lost nor given back.</summary>
    public static bool IsThere(this PieceState state) => state is not (PieceState.Returned or PieceState.Spoiled);

    /// <summary>True in the states in which hands may go on with a piece: it is here, not put aside, and not at its end.</summary>
    public static bool IsUp(this PieceState state) => state is not (PieceState.Booked or PieceState.Held) && !state.IsEnd();

    /// <summary>The state in words.</summary>
    public static string Words(this PieceState state) =>
        state switch
        {
            PieceState.InWork => "in work",
            PieceState.CheckedGood => "checked good",
            PieceState.HandedOver => "handed over",
            PieceState.GoingBack => "to be given back",
            _ => state.ToString().ToLowerInvariant(),
        };

    private static string Words(PieceMove move) =>
        move switch
        {
            PieceMove.Receive => "received",
            PieceMove.Start => "started on a step",
            PieceMove.Finish => "finished with a step",
            PieceMove.BreakOff => "broken off in a step",
            PieceMove.Skip => "moved past a step",
            PieceMove.Hold => "held",
            PieceMove.Release => "released",
            PieceMove.Rework => "reworked",
            PieceMove.Spoil => "spoiled",
            PieceMove.Return => "returned unworked",
            PieceMove.CallOff => "called off",
            PieceMove.HandOver => "handed over",
            _ => throw new ArgumentOutOfRangeException(nameof(move), move, null),
        };
}

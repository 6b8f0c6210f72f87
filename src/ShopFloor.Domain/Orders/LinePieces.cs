using ShopFloor.Domain.Pieces;

namespace ShopFloor.Domain.Orders;

/// <summary>What another number of pieces means for those that a line has.</summary>
/// <param name="Back">Given back unworked, the newest first.</param>
/// <param name="New">The numbers of those that are made.</param>
public sealed record LinePieces(IReadOnlyList<Piece> Back, IReadOnlyList<int> New)
{
    /// <summary>True while the piece is still one of the line's: neither lost nor given back.</summary>
    public static bool IsThere(Piece piece) => !piece.IsTest && piece.State.IsThere();

    /// <summary>True when nothing is lost by leaving it out: not here yet, or a blank on which nothing was begun.</summary>
    public static bool IsFree(Piece piece) =>
        piece.State == PieceState.Booked || piece is { State: PieceState.Received, IsOwn: false, IsBegun: false };

    /// <summary>Judges a new number.</summary>
    /// <param name="ordered">How many were ordered so far.</param>
    /// <param name="pieces">The pieces of the line, test pieces too.</param>
    /// <param name="quantity">How many there shall be; 0: none.</param>
    public static Result<LinePieces> For(int ordered, IReadOnlyList<Piece> pieces, int quantity) =>
        quantity > ordered ? new LinePieces([], Free(ordered, pieces, quantity)) : Fewer(pieces, quantity);

    private static Result<LinePieces> Fewer(IReadOnlyList<Piece> pieces, int quantity)
    {
        var there = pieces.Where(IsThere).ToList();
        var free = there.Where(IsFree).OrderByDescending(p => p.Number).ToList();
        var surplus = Math.Max(0, there.Count - quantity);
        if (free.Count < surplus)
            return there.Where(p => p is { IsOwn: true, State: PieceState.Received }).Select(p => p.Code).ToList() is { Count: > 0 } here
                ? new Refusal(
                    "own-here",
                    $"The customer's own pieces {string.Join(", ", here)} are here: give back what is left out at the Bench first, then change the number.",
                    "quantity"
                )
                : new Refusal(
                    "begun",
                    $"{there.Count - free.Count} pieces of this line are begun or done: there cannot be fewer than these.",
                    "quantity"
                );
        var tests = quantity == 0 ? pieces.Where(p => p is { IsTest: true, IsOver: false }).ToList() : [];
        return tests.Find(t => !IsFree(t)) is { } begun
            ? new Refusal("test-begun", $"The test piece {begun.Code} of this line is in work: judge it first, then leave the line out.")
            : new LinePieces([.. free.Take(surplus), .. tests], []);
    }

    /// <summary>The lowest numbers that no piece of the line has; one that was given back frees its own.</summary>
    private static List<int> Free(int ordered, IReadOnlyList<Piece> pieces, int quantity)
    {
        // What was spoiled is made anew on its own: it counts as there, and what took its place does not count twice.
        var kept = pieces.Where(p => !p.IsTest && p.State != PieceState.Returned).Select(p => p.Number).ToHashSet();
        var missing = quantity - Math.Min(kept.Count, ordered);
        return [.. Enumerable.Range(1, kept.Count + missing).Where(n => !kept.Contains(n)).Take(missing)];
    }
}

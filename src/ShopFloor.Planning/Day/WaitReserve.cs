using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>
/// Leaves hands a part of every longest wait. A plan that uses a wait to its last second is overstepped as soon as the step before ends a few
/// seconds sooner than planned, or the step after begins a few seconds later.
/// </summary>
public static class WaitReserve
{
    /// <summary>Seconds of a longest wait that are kept at most (common practice, no source).</summary>
    public const int MostS = 180;

    /// <summary>A wait that is already running is planned to end within this many seconds at least, if it may (common practice, no source).</summary>
    public const int NearS = 300;

    /// <summary>One part of so many of a longest wait is kept, where that is less (common practice, no source).</summary>
    private const int Share = 5;

    /// <summary>
    /// A piece with shorter longest waits, for planning; the checks of the work itself go by the true ones. Kept are 180 s, a fifth of the wait, or half of what lies between
    /// shortest and longest rest, whichever is least. Of the wait that the piece is in, as much as can still be kept: with time it grows to its true length, so a plan stays
    /// as good as it was.
    /// </summary>
    /// <param name="piece">With its true limits.</param>
    public static Piece Of(Piece piece) => piece with { Route = [.. piece.Route.Select((step, i) => Of(step, Waited(piece, i)))] };

    /// <summary>A day all of whose pieces have shorter longest waits.</summary>
    /// <param name="day">With true limits.</param>
    public static Day Of(Day day) => day with { Pieces = [.. day.Pieces.Select(Of)] };

    /// <summary>Seconds since which the piece is in the wait that a step limits; null when it is not.</summary>
    private static int? Waited(Piece piece, int index) =>
        piece.LastEndS is { } end && index == (piece.Route[index].Kind == StepKind.Rest ? piece.Done : piece.Done - 1) ? -end : null;

    private static Step Of(Step step, int? waited) =>
        step.Kind == StepKind.Rest
            ? step with
            {
                MaxS = Less(step.MaxS, step.MinS, waited),
            }
            : step with
            {
                MaxWaitS = Less(step.MaxWaitS, 0, waited),
            };

    private static int? Less(int? longest, int shortest, int? waited)
    {
        if (longest is not { } most || most <= shortest)
            return longest;
        var less = most - Math.Min(MostS, Math.Min(most / Share, (most - shortest) / 2));
        return waited is { } since ? Math.Min(most, Math.Max(less, since + NearS)) : less;
    }
}

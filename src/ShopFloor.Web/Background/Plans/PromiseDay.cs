using ShopFloor.Data;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Yield;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Background.Plans;

/// <summary>Pieces that are being quoted.</summary>
/// <param name="Piece">What each is.</param>
/// <param name="Count">How many.</param>
/// <param name="Steps">Fitted to it.</param>
/// <param name="Loss">Chance of spoiling one, 0 to below 1.</param>
public sealed record NewPieces(PieceDescription Piece, int Count, IReadOnlyList<RecipeStep> Steps, decimal Loss);

/// <summary>An order that a rush would make late. For the workshop's eyes alone.</summary>
/// <param name="Number">Its number.</param>
/// <param name="Pieces">How many of its pieces.</param>
/// <param name="PromisedAt">What was promised, UTC.</param>
/// <param name="Late">By how much the last of them would be late; null when it would not be finished within the days looked ahead.</param>
public sealed record PushedOrder(string Number, int Pieces, DateTimeOffset PromisedAt, TimeSpan? Late);

/// <summary>When pieces that are being quoted would be ready.</summary>
/// <param name="At">The promise, UTC; null when they cannot be planned within the days looked ahead.</param>
/// <param name="Pushes">For a rush: whom it would make late.</param>
public sealed record PromisedDay(DateTimeOffset? At, IReadOnlyList<PushedOrder> Pushes);

/// <summary>Says when pieces that are being quoted would honestly be ready: they are put into the published plan without making anybody
/// late, with pieces on top for what is usually spoiled, and the reserve the owner keeps.</summary>
/// <param name="time">The clock.</param>
/// <param name="shelf">The published plans; null where there are none yet.</param>
public sealed class PromiseDay(TimeProvider time, PlanShelf? shelf = null) : IPageView
{
    /// <summary>An older plan is no base any more: a new one is made for the question.</summary>
    private static readonly TimeSpan Fresh = TimeSpan.FromMinutes(15);

    /// <summary>How sure there shall be enough good pieces without beginning once more (common practice, no source).</summary>
    private const double Certainty = 0.8;

    private const int FarDays = 40;

    /// <summary>The promise.</summary>
    public async Task<PromisedDay> ForAsync(ShopContext context, IReadOnlyList<NewPieces> pieces, bool rush, CancellationToken cancel)
    {
        var shop = await ShopSnapshot.ReadPromisedAsync(context, time.GetUtcNow(), cancel);
        var (promises, shift) = await BaseAsync(shop, cancel);
        var asked = Asked(pieces, shop, shift);
        if (asked.Count == 0)
            return new PromisedDay(null, []);
        var pushed = rush ? promises.Rush(asked) : null;
        var end = pushed?.EndS ?? promises.Ask([asked])[0].EndS ?? FurtherAhead(Asked(pieces, shop, 0), shop) + shift;
        return end is { } found
            ? new PromisedDay(PromiseRounding.Up(shop, found - shift, rush), Orders(pushed?.Pushed ?? [], shop, shift))
            : new PromisedDay(null, []);
    }

    /// <summary>The published plan while it knows all that has happened, else a plan made for the question; and how long ago its zero was.</summary>
    private async Task<(Promises, int)> BaseAsync(ShopSnapshot shop, CancellationToken cancel)
    {
        // The published plan knows only what is here; with pieces still awaited a plan is made that keeps their time for them.
        var awaited = shop.Pieces.Any(p => p.State == Domain.Pieces.PieceState.Booked);
        var latest = shelf is null || awaited ? null : await shelf.LatestAsync(cancel);
        if (
            latest is not null
            && latest.Journal == shop.Journal
            && shop.Now - latest.Zero is var age
            && age >= TimeSpan.Zero
            && age < Fresh
        )
            return (latest.Promises, (int)age.TotalSeconds);
        var day = DayFromShop.Make(shop);
        return (Promises.Prepare(day, DayPlanner.First(day)), 0);
    }

    /// <summary>The plan may not reach far enough: then the whole is planned anew over more days.</summary>
    private static int? FurtherAhead(List<Piece> asked, ShopSnapshot shop)
    {
        var plan = DayPlanner.First(DayFromShop.Make(shop, asked));
        var ids = asked.Select(p => p.Id).ToHashSet(StringComparer.Ordinal);
        return plan.LeftOut.Any(l => ids.Contains(l.Piece)) ? null : PlanEnds.Of(plan).Where(e => ids.Contains(e.Key)).Max(e => e.Value);
    }

    private static List<Piece> Asked(IReadOnlyList<NewPieces> pieces, ShopSnapshot shop, int shift)
    {
        var far = shop.Seconds(shop.Now.AddDays(FarDays));
        return
        [
            .. pieces.SelectMany(
                (p, line) =>
                    Enumerable
                        .Range(1, ToStart(p))
                        .Select(n => Later(DayPieces.Of(p, FormattableString.Invariant($"new-{line}-{n}"), far, shop), shift))
            ),
        ];
    }

    /// <summary>With those on top that make up for what is spoiled; a customer's own piece cannot be made twice.</summary>
    private static int ToStart(NewPieces asked)
    {
        if (asked.Piece.IsOwn || asked.Loss <= 0)
            return asked.Count;
        var start = ProcessYield.BlanksToStart(asked.Count, (double)(1 - asked.Loss), Certainty);
        return start.IsOk ? start.Value.Value : asked.Count;
    }

    private static Piece Later(Piece piece, int shift) =>
        piece with
        {
            EarliestS = piece.EarliestS + shift,
            PromiseS = piece.PromiseS + shift,
            Route = [.. piece.Route.Select(s => s.Kind == Planning.Exchange.StepKind.Tape ? s with { ReadyS = s.ReadyS + shift } : s)],
        };

    private static List<PushedOrder> Orders(IReadOnlyList<Pushed> pushed, ShopSnapshot shop, int shift) =>
        [
            .. pushed
                .GroupBy(p => p.Order, StringComparer.Ordinal)
                .Select(g => new PushedOrder(
                    g.Key,
                    g.Count(),
                    shop.Now.AddSeconds(g.Min(p => p.PromiseS) - shift),
                    g.Any(p => p.EndS is null) ? null : TimeSpan.FromSeconds(g.Max(p => p.LateS))
                )),
        ];
}

using System.Collections.Concurrent;
using System.Text.Json;
using ShopFloor.Data;
using ShopFloor.Domain.Yield;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;

namespace ShopFloor.Web.Background.Plans;

/// <summary>
/// The shop at one place of its journal, planned, and what was answered from it. Pieces that are asked for are put into the plan without
/// making anybody late, with pieces on top for what is usually spoiled, and the reserve the owner keeps. The same question is answered once.
/// </summary>
/// <param name="shop">The shop.</param>
/// <param name="promises">Its plan.</param>
/// <param name="shift">Seconds from the plan's zero to the snapshot.</param>
/// <param name="taken">Pieces that were booked since the snapshot and are in the plan, seconds counted from the snapshot.</param>
public sealed class PromiseBase(ShopSnapshot shop, Promises promises, int shift, IReadOnlyList<Piece> taken)
{
    /// <summary>An older plan is no base any more: a new one is made for the question.</summary>
    private static readonly TimeSpan Fresh = StandingPlan.Longest + TimeSpan.FromMinutes(15);

    /// <summary>How sure there shall be enough good pieces without beginning once more (common practice, no source).</summary>
    private const double Certainty = 0.8;

    private const int FarDays = 40;
    private readonly ConcurrentDictionary<string, PromisedDay> answered = new(StringComparer.Ordinal);

    /// <summary>Last journal entry that it knows of.</summary>
    public long Journal => shop.Journal;

    /// <summary>True when a plan of that age may still be asked.</summary>
    internal static bool Suits(TimeSpan age) => age >= TimeSpan.Zero && age < Fresh;

    /// <summary>True when a planned day has the people, stations and cans of the shop: none has come or gone since it was planned, and all work
    /// when it was thought.</summary>
    /// <param name="day">The planned day.</param>
    /// <param name="zero">The instant its seconds count from, UTC.</param>
    /// <param name="shop">The shop now.</param>
    public static bool KnowsAll(Day day, DateTimeOffset zero, ShopSnapshot shop) =>
        Same(day.People.Select(p => p.Id), shop.People.Select(p => p.Code))
        && DayTimes.AreOf(day, zero, shop.People, shop.Settings, shop.Now)
        && Same(
            day.Stations.Select(s => s.Id),
            shop.Stations.Where(s => DayStations.Of(s, shop, day.HorizonS) is not null).Select(s => s.Code)
        )
        && Same(day.Coatings.Select(c => c.Id), shop.Coatings.Select(c => c.Code))
        && DayStations.Coatings(shop).SelectMany(c => c.Cans).All(can => day.Coatings.Any(c => c.Cans.Any(known => known.Id == can.Id)));

    private static bool Same(IEnumerable<string> planned, IEnumerable<string> here) => planned.Order().SequenceEqual(here.Order());

    /// <summary>Answers each as if the others were not asked for.</summary>
    public IReadOnlyList<PromisedDay> Answer(IReadOnlyList<AskedOrder> asked)
    {
        var keys = asked.Select(a => JsonSerializer.Serialize(a, JsonForms.Default)).ToList();
        var open = asked.Zip(keys).Where(a => !answered.ContainsKey(a.Second)).DistinctBy(a => a.Second).ToList();
        foreach (var (order, key) in open)
            if (Uncoated(order) is { Count: > 0 } lines)
                answered[key] = new PromisedDay(null, [], this) { LeftOut = lines };
            else if (order.Rush)
                answered[key] = Rush(order);
        var calm = open.Where(a => !answered.ContainsKey(a.Second)).ToList();
        foreach (var ((_, key), promise) in calm.Zip(Calm([.. calm.Select(a => a.First)])))
            answered[key] = promise;
        return [.. keys.Select(k => answered[k])];
    }

    /// <summary>The base once an order is booked, without reading and planning everything anew; null where that is needed: for a rush, which
    /// moves others, and for what reaches further ahead than the plan.</summary>
    /// <param name="order">The order.</param>
    /// <param name="number">Its number.</param>
    /// <param name="at">What it was promised for, UTC.</param>
    /// <param name="entries">How many entries the booking writes into the journal.</param>
    public PromiseBase? Booked(AskedOrder order, int number, DateTimeOffset at, int entries)
    {
        if (order.Rush)
            return null;
        var name = number.ToString(CultureInfo.InvariantCulture);
        var booked = Pieces(order with { Pieces = [.. order.Pieces.Select(p => p with { Loss = 0 })] }, 0)
            .ConvertAll(p => p with { Id = $"{name}-{p.Id}", Order = name, PromiseS = shop.Seconds(at) });
        return promises.Taking(booked.ConvertAll(p => Later(p, shift))) is { } next
            ? new PromiseBase(shop with { Journal = shop.Journal + entries }, next, shift, [.. taken, .. booked])
            : null;
    }

    private PromisedDay Rush(AskedOrder order)
    {
        var pieces = Pieces(order, shift);
        if (pieces.Count == 0)
            return new PromisedDay(null, [], this);
        var rush = promises.Rush(pieces);
        return Promised(rush.EndS ?? promises.Ask([pieces])[0].EndS, order, PushedOrder.Of(rush.Pushed, shop, shift));
    }

    private List<PromisedDay> Calm(List<AskedOrder> orders)
    {
        var pieces = orders.ConvertAll(o => Pieces(o, shift));
        return [.. promises.Ask(pieces).Zip(orders, (found, order) => Promised(found.EndS, order, []))];
    }

    private PromisedDay Promised(int? end, AskedOrder order, IReadOnlyList<PushedOrder> pushes)
    {
        var (found, left) = end is { } near ? (near - shift, NoLines) : FurtherAhead(Pieces(order, 0));
        return found is { } at
            ? new PromisedDay(PromiseRounding.Up(shop, at, order.Rush), pushes, this)
            : new PromisedDay(null, [], this) { LeftOut = left };
    }

    /// <summary>The plan may not reach far enough: then the whole is planned anew over more days, and where time is short over all that can be looked ahead.</summary>
    private (int? End, IReadOnlyDictionary<int, LeftOut> LeftOut) FurtherAhead(List<Piece> asked)
    {
        if (asked.Count == 0)
            return (null, NoLines);
        var ids = asked.Select(p => p.Id).ToHashSet(StringComparer.Ordinal);
        var (plan, left) = Together(DayFromShop.Make(shop, [.. taken, .. asked]), ids);
        // Everybody may be away, or a press broken, for longer than is usually looked ahead.
        if (left.Exists(l => l.Reason == "no time"))
            (plan, left) = Together(DayFromShop.Make(shop, [.. taken, .. asked], asFarAsCanBe: true), ids);
        return left.Count == 0
            ? (PlanEnds.Of(plan).Where(e => ids.Contains(e.Key)).Max(e => e.Value), NoLines)
            : (null, Lines(left, asked, ids));
    }

    /// <summary>Lines that need a coating of which the cans hold too little for all that was agreed and is asked for: known without planning.</summary>
    private Dictionary<int, LeftOut> Uncoated(AskedOrder order)
    {
        var asked = Pieces(order, shift);
        var missing = promises.Uncoated(asked);
        var lines = new Dictionary<int, LeftOut>();
        foreach (var piece in missing.Count == 0 ? [] : asked)
            if (piece.Route.FirstOrDefault(s => s.Kind == StepKind.Spray && missing.ContainsKey(s.Coating)) is { } spray)
                lines.TryAdd(LineOf(piece.Id), new LeftOut(piece.Id, "no coating", missing[spray.Coating]));
        return lines;
    }

    /// <summary>A plan of all with those that are asked for, and whom it leaves out that would not be left out without them.</summary>
    private (Plan Plan, List<LeftOut> Left) Together(Day day, HashSet<string> ids)
    {
        var plan = DayPlanner.First(day);
        var before = promises.LeftOut.ToHashSet(StringComparer.Ordinal);
        bool IsOther(LeftOut l) => !ids.Contains(l.Piece);
        var left = plan.LeftOut.Where(l => !IsOther(l) || !before.Contains(l.Piece)).ToList();
        // A plan that was searched for longer may place some whom a first plan leaves out, asked or not.
        if (left.Exists(IsOther))
        {
            var alone = DayPlanner.First(day with { Pieces = [.. day.Pieces.Where(p => !ids.Contains(p.Id))] });
            before.UnionWith(alone.LeftOut.Select(l => l.Piece));
            left.RemoveAll(l => IsOther(l) && before.Contains(l.Piece));
        }
        return (plan, left);
    }

    /// <summary>The reason for each line. Where it is another order that would go without, it is said of all lines: nobody's coating is taken away.</summary>
    private static Dictionary<int, LeftOut> Lines(List<LeftOut> left, List<Piece> asked, HashSet<string> ids)
    {
        var own = left.FindAll(l => ids.Contains(l.Piece));
        return own.Count > 0
            ? own.GroupBy(l => LineOf(l.Piece)).ToDictionary(g => g.Key, g => g.First())
            : asked.Select(p => LineOf(p.Id)).Distinct().ToDictionary(line => line, _ => left[0]);
    }

    private static readonly IReadOnlyDictionary<int, LeftOut> NoLines = new Dictionary<int, LeftOut>();

    private static int LineOf(string piece) => int.Parse(piece.Split('-')[1], CultureInfo.InvariantCulture);

    private List<Piece> Pieces(AskedOrder asked, int later)
    {
        var far = shop.Seconds(shop.Now.AddDays(FarDays));
        Piece Of(NewPieces p, int line, int n) =>
            DayPieces.Of(p, FormattableString.Invariant($"new-{line}-{n}"), far, asked, shop) with
            {
                EarliestS = Math.Max(
                    p.TestFirst ? DayPieces.TestSeconds : 0,
                    p.Later is { } later && n > later.Here ? shop.Seconds(later.At) : 0
                ),
            };
        return [.. asked.Pieces.SelectMany((p, line) => Enumerable.Range(1, ToStart(p)).Select(n => Later(Of(p, line, n), later)))];
    }

    /// <summary>With those on top that make up for what is spoiled; a customer's own piece cannot be made twice.</summary>
    private static int ToStart(NewPieces asked)
    {
        if (asked.Piece.IsOwn || asked.Loss <= 0)
            return asked.Count;
        var start = ProcessYield.BlanksToStart(asked.Count, (double)(1 - asked.Loss), Certainty);
        return start.IsOk ? start.Value.Value : asked.Count;
    }

    private static Piece Later(Piece piece, int seconds) =>
        piece with
        {
            EarliestS = piece.EarliestS + seconds,
            PromiseS = piece.PromiseS + seconds,
            Route = [.. piece.Route.Select(s => s.Kind == StepKind.Tape ? s with { ReadyS = s.ReadyS + seconds } : s)],
        };
}

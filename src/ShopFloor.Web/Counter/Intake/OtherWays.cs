using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Counter.Entries;

namespace ShopFloor.Web.Counter.Intake;

/// <summary>Another way to have the same order.</summary>
/// <param name="Key">In words, a key of the Counter's texts.</param>
/// <param name="Entry">The order that way.</param>
/// <param name="Fewer">How many pieces it has where that is what differs, for the words; null otherwise.</param>
public sealed record OtherWay(string Key, OrderEntry Entry, int? Fewer = null);

/// <summary>Another way with what it would cost and when it would be ready.</summary>
/// <param name="Way">The way.</param>
/// <param name="Total">Its price, as the customer is shown prices.</param>
/// <param name="Cheaper">What it saves; below zero: what it costs more.</param>
/// <param name="PromisedAt">When it would be ready, UTC.</param>
public sealed record OfferedWay(OtherWay Way, decimal Total, decimal Cheaper, DateTimeOffset PromisedAt)
{
    /// <summary>The offer; null when it is neither cheaper nor on an earlier day, or cannot be made. Any day is earlier than none.</summary>
    /// <param name="way">The way.</param>
    /// <param name="now">The order as it is.</param>
    /// <param name="then">The order that way.</param>
    /// <param name="withTax">The shop shows its prices with tax.</param>
    public static OfferedWay? Compared(OtherWay way, OrderQuote now, OrderQuote then, bool withTax)
    {
        if (now.Shown(withTax) is not { } total || then.Shown(withTax) is not { } other || then.PromisedAt is not { } day)
            return null;
        var offer = new OfferedWay(way, other, total - other, day);
        return now.PromisedAt is not { } promised || offer.Cheaper > 0 || day < promised ? offer : null;
    }
}

/// <summary>Thinks of other ways: in its turn instead of first, another look, a smaller picture, and fewer pieces where there is no day.</summary>
public static class OtherWays
{
    private const double SmallerBy = 0.7;
    private static readonly decimal[] Fewer = [0.75m, 0.5m, 0.25m, 0.1m];

    /// <summary>The best of what was worked out: all that is better, of fewer pieces only the most.</summary>
    public static IReadOnlyList<OfferedWay> Best(IEnumerable<OfferedWay> offers)
    {
        var all = offers.ToList();
        var most = all.Max(o => o.Way.Fewer);
        return all.FindAll(o => o.Way.Fewer == most || o.Way.Fewer is null);
    }

    /// <summary>The ways for the order; whether they are better is not known yet.</summary>
    public static IEnumerable<OtherWay> Of(OrderEntry entry, CounterChoices choices, bool hasDay = true)
    {
        // A pasted list says itself how many there are.
        if (!hasDay && entry.Line.List.Trim().Length == 0 && EntryReading.Quantity(entry.Line) is { } count and > 1)
            foreach (var few in Fewer.Select(share => Math.Max(1, (int)(count * share))).Distinct())
                yield return new OtherWay("Fewer pieces: {0}", entry.WithLine(l => l with { Quantity = $"{few}" }), few);
        yield return entry.IsRush
            ? new OtherWay("Not first, but in its turn", entry with { IsRush = false })
            : new OtherWay("Done first (rush)", entry with { IsRush = true });
        var line = entry.Line;
        foreach (var finish in choices.FinishesFor(line.Material).Where(f => line.Finish is not null && f != line.Finish))
            yield return new OtherWay(finish.Words(), entry.WithLine(l => l with { Finish = finish }));
        var smaller = (line.Framing.Fill ? line.Framing with { Share = 1 } : line.Framing).Sized(SmallerBy);
        if (line.Picture is not null && (line.Framing.Fill || smaller.Share < line.Framing.Share))
            yield return new OtherWay("A smaller picture, the rest stays plain", entry.WithLine(l => l with { Framing = smaller }));
    }
}

using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Counter.Entries;

namespace ShopFloor.Web.Counter.Intake;

/// <summary>Another way to have the same order.</summary>
/// <param name="Key">In words, a key of the Counter's texts.</param>
/// <param name="Entry">The order that way.</param>
public sealed record OtherWay(string Key, OrderEntry Entry);

/// <summary>Another way with what it would cost and when it would be ready.</summary>
/// <param name="Way">The way.</param>
/// <param name="Total">Its price with tax.</param>
/// <param name="Cheaper">What it saves; below zero: what it costs more.</param>
/// <param name="PromisedAt">When it would be ready, UTC.</param>
public sealed record OfferedWay(OtherWay Way, decimal Total, decimal Cheaper, DateTimeOffset PromisedAt)
{
    /// <summary>The offer; null when it is neither cheaper nor on an earlier day, or cannot be made.</summary>
    public static OfferedWay? Compared(OtherWay way, OrderQuote now, OrderQuote then)
    {
        if (now is not { Gross: { } total, PromisedAt: { } promised } || then is not { Gross: { } other, PromisedAt: { } day })
            return null;
        var offer = new OfferedWay(way, other, total - other, day);
        return offer.Cheaper > 0 || day < promised ? offer : null;
    }
}

/// <summary>Thinks of other ways: in its turn instead of first, another look, a smaller picture.</summary>
public static class OtherWays
{
    private const double SmallerBy = 0.7;

    /// <summary>The ways for the order; whether they are better is not known yet.</summary>
    public static IEnumerable<OtherWay> Of(OrderEntry entry, CounterChoices choices)
    {
        yield return entry.IsRush
            ? new OtherWay("Not first, but in its turn", entry with { IsRush = false })
            : new OtherWay("Done first (rush)", entry with { IsRush = true });
        var line = entry.Line;
        foreach (var finish in choices.FinishesFor(line.Material).Where(f => line.Finish is not null && f != line.Finish))
            yield return new OtherWay(FinishTexts.Name(finish), entry.WithLine(l => l with { Finish = finish }));
        var smaller = (line.Framing.Fill ? line.Framing with { Share = 1 } : line.Framing).Sized(SmallerBy);
        if (line.Picture is not null && (line.Framing.Fill || smaller.Share < line.Framing.Share))
            yield return new OtherWay("A smaller picture, the rest stays plain", entry.WithLine(l => l with { Framing = smaller }));
    }
}

using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>When attended work of a kind fits into somebody's shift, overtime included and whoever else needs the person left aside.</summary>
internal sealed class ShiftTimes
{
    private readonly (int From, int To)[][] spans;
    private readonly (int From, int To)[] all;

    public ShiftTimes(Shop shop)
    {
        spans = [.. shop.PeopleFor.Select(people => Spans(shop, people))];
        all = Spans(shop, Enumerable.Range(0, shop.People.Length));
    }

    /// <summary>Earliest start at or after a time, or <see cref="Line.Never"/>.</summary>
    public int Earliest(StationKind kind, int time, int length)
    {
        var best = Line.Never;
        foreach (var (from, to) in spans[(int)kind])
            if (Math.Max(time, from) is var start && start + length <= to && start < best)
                best = start;
        return best;
    }

    /// <summary>Latest end at or before a time, or <see cref="int.MinValue"/>.</summary>
    public int Latest(StationKind kind, int time, int length)
    {
        var best = int.MinValue;
        foreach (var (from, to) in spans[(int)kind])
            if (Math.Min(time, to) is var end && end - length >= from && end > best)
                best = end;
        return best;
    }

    /// <summary>Seconds that all people together are there within a span.</summary>
    public long Of(int from, int to) => all.Sum(s => (long)Math.Max(0, Math.Min(to, s.To) - Math.Max(from, s.From)));

    private static (int From, int To)[] Spans(Shop shop, IEnumerable<int> people) =>
        [
            .. people
                .SelectMany(p => shop.People[p].Shifts)
                .Select(s => (From: Math.Max(0, s.FromS), To: Math.Min(s.ToS, shop.Horizon)))
                .Where(s => s.From < s.To)
                .OrderBy(s => s.From),
        ];
}

using ShopFloor.Planning.Exchange;

namespace ShopFloor.Web.Office.Plans;

/// <summary>A mark on the axis.</summary>
/// <param name="Second">Second of the plan.</param>
/// <param name="AfterGap">True where the first hour after closed ones stands.</param>
public sealed record AxisTick(int Second, bool AfterGap);

/// <summary>Turns seconds of the plan into a place between 0 and 1: working hours to scale, closed ones as a narrow gap.</summary>
public sealed class TimelineAxis
{
    /// <summary>Share of the width that a gap takes.</summary>
    public const double Gap = 0.022;

    /// <summary>Working hours shown at once.</summary>
    public const int Hours = 11;

    private const int Hour = 3_600;
    private readonly List<(int From, int To)> open;
    private readonly double perSecond;

    private TimelineAxis(int begin, List<(int From, int To)> open)
    {
        (From, this.open, To, OpenS) = (begin, open, open[^1].To, open.Sum(o => o.To - o.From));
        var gaps = open.Count - (open[0].From == begin ? 1 : 0);
        perSecond = (1 - (gaps * Gap)) / OpenS;
    }

    /// <summary>First second shown; a full hour of the shop's clock.</summary>
    public int From { get; }

    /// <summary>First second no longer shown.</summary>
    public int To { get; }

    /// <summary>Working seconds shown.</summary>
    public int OpenS { get; }

    /// <summary>The stretches drawn to scale.</summary>
    public IReadOnlyList<(int From, int To)> Open => open;

    /// <summary>The full hours of the working time.</summary>
    public IEnumerable<AxisTick> Ticks =>
        open.SelectMany(
            (o, i) =>
                Enumerable
                    .Range(0, (o.To - o.From) / Hour + 1)
                    .Select(h => new AxisTick(o.From + (h * Hour), h == 0 && (i > 0 || o.From > From)))
        );

    /// <summary>The axis.</summary>
    /// <param name="day">Whose shifts are the working time.</param>
    /// <param name="plan">Whose tasks by hand are working time too.</param>
    /// <param name="hour">Any second of the plan that is a full hour of the shop's clock; at most 0.</param>
    /// <param name="skip">Working hours of the plan that lie before the picture.</param>
    public static TimelineAxis Of(Day day, Plan plan, int hour, int skip)
    {
        var spans = day
            .People.SelectMany(p => p.Shifts.Where(s => s.NormalToS > s.FromS).Select(s => (From: s.FromS, To: s.NormalToS)))
            .Concat(plan.Tasks.Where(t => t.Person is not null && t.EndS is not null).Select(t => (From: t.StartS, To: t.EndS!.Value)));
        var whole = Joined(spans.Select(s => (From: Down(s.From, hour), To: Down(s.To + Hour - 1, hour))).Where(s => s.To > hour));
        var begin = hour;
        for (var left = skip * Hour; left > 0 && whole.Count > 0; )
        {
            var passed = Math.Min(left, whole[0].To - whole[0].From);
            (left, begin) = (left - passed, whole[0].From + passed);
            whole[0] = (begin, whole[0].To);
            if (whole[0].From == whole[0].To)
                whole.RemoveAt(0);
        }
        return new TimelineAxis(skip == 0 || whole.Count == 0 ? begin : whole[0].From, Cut(whole, begin));
    }

    /// <summary>The place of a second, 0 to 1.</summary>
    public double At(int second)
    {
        var (at, before) = (0.0, From);
        foreach (var (from, to) in open)
        {
            if (from > before)
            {
                if (second < from)
                    return at + (Gap * Math.Max(0, second - before) / (from - before));
                at += Gap;
            }
            if (second < to)
                return at + (perSecond * Math.Max(0, second - from));
            at += perSecond * (to - from);
            before = to;
        }
        return 1;
    }

    private static int Down(int second, int hour) => hour + (int)Math.Floor((second - hour) / (double)Hour) * Hour;

    private static List<(int From, int To)> Joined(IEnumerable<(int From, int To)> spans)
    {
        var joined = new List<(int From, int To)>();
        foreach (var (from, to) in spans.OrderBy(s => s.From))
            // A gap of an hour is drawn as it is.
            if (joined.Count > 0 && from <= joined[^1].To + Hour)
                joined[^1] = (joined[^1].From, Math.Max(joined[^1].To, to));
            else
                joined.Add((from, to));
        return joined;
    }

    private static List<(int From, int To)> Cut(List<(int From, int To)> whole, int begin)
    {
        var (cut, left) = (new List<(int From, int To)>(), Hours * Hour);
        foreach (var (from, to) in whole)
        {
            if (left <= 0)
                break;
            cut.Add((Math.Max(from, begin), Math.Min(to, Math.Max(from, begin) + left)));
            left -= cut[^1].To - cut[^1].From;
        }
        return cut.Count > 0 ? cut : [(begin, begin + (Hours * Hour))];
    }
}

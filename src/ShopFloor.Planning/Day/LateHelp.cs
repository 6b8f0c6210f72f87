using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Finds out what would help late pieces, by planning the day once more with one thing changed.</summary>
public static class LateHelp
{
    /// <summary>A gain below this is not told, in seconds.</summary>
    private const int LeastGainS = 600;

    /// <summary>Days of more pieces are tried with the first plan alone.</summary>
    private const int MostSearched = 150;

    /// <summary>A first plan alone has words about help up to so many pieces: it is to be there at once, and they take seven more.</summary>
    internal const int MostAtOnce = 20;

    private const int MoreOvertimeS = 7_200;

    /// <summary>The plan with words about what would help in <see cref="Why.Helps"/> of every late piece's last step. Takes seven first plans'
    /// time when something is late, none otherwise; of a plan that was searched for, seven short searches'.</summary>
    /// <param name="day">The day.</param>
    /// <param name="plan">Its plan.</param>
    /// <param name="cancel">Gives the words up; the plan is as it was then.</param>
    public static Plan Add(Day day, Plan plan, CancellationToken cancel = default)
    {
        var ends = PlanEnds.Of(plan);
        var late = day
            .Pieces.Where(p => ends.TryGetValue(p.Id, out var end) && end > p.PromiseS && plan.LeftOut.All(l => l.Piece != p.Id))
            .ToList();
        if (late.Count == 0 || cancel.IsCancellationRequested)
            return plan;
        // Both sides are planned with the same small effort, so that a change is not thanked for what a longer search found.
        var rounds = RoundsTried(day, plan);
        var usual = PlanEnds.Of(Tried(day, rounds));
        var helps = late.ToDictionary(p => p.Id, _ => new List<string>(), StringComparer.Ordinal);
        foreach (var (name, changed) in Changes(day))
        {
            if (cancel.IsCancellationRequested)
                return plan;
            var with = PlanEnds.Of(Tried(changed, rounds));
            foreach (var piece in late)
                if (
                    with.TryGetValue(piece.Id, out var end)
                    && usual.TryGetValue(piece.Id, out var was)
                    && Gain(name, piece, was, end) is { } text
                )
                    helps[piece.Id].Add(text);
        }
        return plan with { Why = [.. plan.Why.Select(w => Helped(w, day, helps))] };
    }

    /// <summary>A first plan is to be there at once, so its changes are not searched either.</summary>
    private static int RoundsTried(Day day, Plan plan) => plan.Search.Rounds is null or 0 || day.Pieces.Count > MostSearched ? 0 : 2;

    private static Plan Tried(Day day, int rounds)
    {
        var options = new PlanOptions
        {
            Rounds = rounds,
            Chains = 1,
            DaySha256 = "",
        };
        return DayPlanner.Bare(day, options);
    }

    private static string? Gain(string name, Piece piece, int was, int end)
    {
        var better = Math.Min(was, end);
        if (was - better < LeastGainS)
            return null;
        return end <= piece.PromiseS ? $"{name}: in time" : FormattableString.Invariant($"{name}: {(was - end) / 60} min sooner");
    }

    private static Why Helped(Why why, Day day, Dictionary<string, List<string>> helps)
    {
        if (why.Piece is null || !helps.TryGetValue(why.Piece, out var list))
            return why;
        if (why.Step != day.Pieces.First(p => p.Id == why.Piece).Route.Count)
            return why;
        return why with { Helps = list.Count > 0 ? string.Join("; ", list) : "nothing that was tried" };
    }

    private static IEnumerable<(string, Day)> Changes(Day day)
    {
        if (day.Stations.OfType<Oven>().Any(o => o.Shelves.Count > 0))
            yield return ("one more shelf in each oven", With<Oven>(day, o => o with { Shelves = [.. o.Shelves, o.Shelves[^1]] }));
        if (FirstTemperature(day) is { } tenths)
            yield return ("ovens hot from the beginning", With<Oven>(day, o => o with { Heat = o.Heat with { NowTenthsC = tenths } }));
        yield return (
            "two hours of overtime",
            day with
            {
                People =
                [
                    .. day.People.Select(p =>
                        p with
                        {
                            Shifts =
                            [
                                .. p.Shifts.Select((s, i) => Longer(s, i + 1 < p.Shifts.Count ? p.Shifts[i + 1].FromS : day.HorizonS)),
                            ],
                        }
                    ),
                ],
            }
        );
        if (day.Stations.OfType<Oven>().FirstOrDefault() is { } oven)
            yield return ("one more oven", day with { Stations = [.. day.Stations, oven with { Id = "~" }] });
        if (day.Stations.OfType<Booth>().FirstOrDefault() is { } booth)
            yield return ("one more booth", day with { Stations = [.. day.Stations, booth with { Id = "~" }] });
        yield return (
            "one more pair of hands",
            day with
            {
                People = [.. day.People, .. day.People.Take(1).Select(p => p with { Id = "~" })],
            }
        );
    }

    private static Day With<T>(Day day, Func<T, T> change)
        where T : Station => day with { Stations = [.. day.Stations.Select(s => s is T t ? change(t) : s)] };

    /// <summary>The temperature that most cures ask for.</summary>
    private static int? FirstTemperature(Day day) =>
        day
            .Pieces.SelectMany(p => p.Route.Skip(p.Done))
            .Where(s => s.Kind == StepKind.Cure)
            .GroupBy(s => s.TenthsC)
            .OrderByDescending(g => g.Count())
            .ThenBy(g => g.Key)
            .Select(g => (int?)g.Key)
            .FirstOrDefault();

    /// <summary>Touching shifts become one when read, so a longer one ends a second before the next.</summary>
    private static Shift Longer(Shift shift, int next) =>
        shift with
        {
            ToS = Math.Max(shift.ToS, Math.Min(shift.ToS + MoreOvertimeS, next - 1)),
        };
}

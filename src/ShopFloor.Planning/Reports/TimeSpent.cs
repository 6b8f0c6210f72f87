using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Reports;

/// <summary>What a piece's time goes into.</summary>
public enum Spent
{
    /// <summary>Its own steps, with the others of its load or session.</summary>
    Work,

    /// <summary>Rests, as long as they must be.</summary>
    Rest,

    /// <summary>Nobody is at work.</summary>
    Closed,

    /// <summary>Waiting: somebody's hands were not free. Name: the person.</summary>
    Person,

    /// <summary>Waiting: a station was not free. Name: the station.</summary>
    Station,

    /// <summary>Waiting: an oven or a press was not at its temperature. Name: the station.</summary>
    SetPoint,

    /// <summary>Waiting: another piece of the same load or session was not there yet. Name: the piece.</summary>
    Member,

    /// <summary>Waiting: its transfer was not printed and dry.</summary>
    Transfer,

    /// <summary>Waiting: it may not be begun sooner, or another piece comes first. Name: that piece.</summary>
    Earliest,

    /// <summary>Waiting: the owner pinned it.</summary>
    Pin,

    /// <summary>Waiting: the plan had it wait, so that it shares a round, a load or a session or keeps a longest wait.</summary>
    Chosen,
}

/// <summary>A share of a piece's time.</summary>
/// <param name="What">Into what it goes.</param>
/// <param name="Name">Whose; null where it is nobody's.</param>
/// <param name="Seconds">How long, above 0.</param>
public sealed record SpentTime(Spent What, string? Name, int Seconds);

/// <summary>Adds up where a planned piece's time goes, from the plan's beginning to the piece's end. The shares add up to that span exactly.</summary>
public static class TimeSpent
{
    /// <summary>The shares, longest first; empty for a piece that is not planned.</summary>
    /// <param name="day">The day.</param>
    /// <param name="plan">Its plan; must break no rule and say why each step stands where it does.</param>
    /// <param name="id">The piece.</param>
    public static IReadOnlyList<SpentTime> Of(Day day, Plan plan, string id)
    {
        var piece = day.Pieces.FirstOrDefault(p => p.Id == id);
        if (piece is null || plan.LeftOut.Any(l => l.Piece == id))
            return [];
        var times = StepTimes.Of(plan);
        var shares = new Dictionary<(Spent, string?), int>();
        void Add(Spent what, string? name, int seconds)
        {
            if (seconds > 0)
                shares[(what, name)] = shares.GetValueOrDefault((what, name)) + seconds;
        }
        var at = 0;
        for (var step = piece.Done + 1; step <= piece.Route.Count; step++)
        {
            if (!times.TryGetValue((id, step), out var time))
                continue;
            if (piece.Route[step - 1].Kind == StepKind.Rest)
            {
                // A rest lasts until the next step begins; what is more than it must be is waiting for that step.
                var must = Math.Max(0, Math.Min(time.EndS, time.StartS + piece.Route[step - 1].MinS) - at);
                Add(Spent.Rest, null, must);
                at += must;
                continue;
            }
            Wait(day, plan, (id, step, time.Batch), (at, time.StartS), Add);
            Add(Spent.Work, null, time.EndS - Math.Max(at, time.StartS));
            at = Math.Max(at, time.EndS);
        }
        return
        [
            .. shares
                .Select(s => new SpentTime(s.Key.Item1, s.Key.Item2, s.Value))
                .OrderByDescending(s => s.Seconds)
                .ThenBy(s => s.What)
                .ThenBy(s => s.Name, StringComparer.Ordinal),
        ];
    }

    private static void Wait(
        Day day,
        Plan plan,
        (string Piece, int Step, string? Batch) step,
        (int From, int To) gap,
        Action<Spent, string?, int> add
    )
    {
        if (gap.To <= gap.From)
            return;
        var closed = gap.To - gap.From - Open(day, gap.From, gap.To);
        add(Spent.Closed, null, closed);
        var why =
            plan.Why.FirstOrDefault(w => w.Piece == step.Piece && w.Step == step.Step)
            ?? plan.Why.FirstOrDefault(w => w.Batch is not null && w.Batch == step.Batch);
        var (what, name) = Cause(why);
        add(what, name, gap.To - gap.From - closed);
    }

    private static (Spent, string?) Cause(Why? why) =>
        why switch
        {
            { HeldBy: "person" } => (Spent.Person, why.Name),
            { HeldBy: "station" } => (Spent.Station, why.Name),
            { HeldBy: "set point" } => (Spent.SetPoint, why.Name),
            { HeldBy: "member" } => (Spent.Member, why.Name),
            { HeldBy: "pin" } => (Spent.Pin, null),
            { HeldBy: "previous step", Name: "transfer" } => (Spent.Transfer, null),
            { HeldBy: "previous step", Name: not null and not "plan begins" } => (
                Spent.Earliest,
                why.Name == "earliest start" ? null : why.Name
            ),
            _ => (Spent.Chosen, null),
        };

    // Seconds of the span in which anybody is at work.
    private static int Open(Day day, int from, int to)
    {
        var (open, at) = (0, from);
        foreach (var shift in day.People.SelectMany(p => p.Shifts).Where(s => s.ToS > from && s.FromS < to).OrderBy(s => s.FromS))
        {
            var (begin, end) = (Math.Max(at, shift.FromS), Math.Min(to, shift.ToS));
            open += Math.Max(0, end - begin);
            at = Math.Max(at, end);
        }
        return open;
    }
}

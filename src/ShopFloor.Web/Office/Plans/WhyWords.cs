using ShopFloor.Planning.Exchange;
using ShopFloor.Planning.Reports;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Moves;

namespace ShopFloor.Web.Office.Plans;

/// <summary>Why a task stands where it does.</summary>
/// <param name="When">From when to when, by the shop's clock.</param>
/// <param name="What">What is done, to which piece or batch.</param>
/// <param name="Who">By whom; empty when nobody is needed.</param>
/// <param name="Where">At which station.</param>
/// <param name="Why">The reason in a sentence or two.</param>
public sealed record TaskReason(string When, string What, string Who, string Where, string Why);

/// <summary>Says in plain words what the plan knows of why: for a task what stops it from starting sooner, for a piece where its time goes.</summary>
/// <param name="day">The day.</param>
/// <param name="plan">Its plan.</param>
/// <param name="words">Names.</param>
/// <param name="clock">The shop's clock at a second of the plan.</param>
public sealed class WhyWords(Day day, Plan plan, PlanWords words, Func<int, string> clock)
{
    private const int LeastTold = 300;

    /// <summary>Why a task stands where it does.</summary>
    public TaskReason Of(PlanTask task) =>
        new(
            When(clock(task.StartS), clock(task.EndS ?? task.StartS)),
            words.Task(day, task),
            task.Person is { } person ? words.Name(person) : "",
            words.Name(task.Station),
            Sentence(task)
        );

    /// <summary>Where the time of a piece goes until it is finished, longest first, e.g. <c>14 h: nobody is at work</c>.</summary>
    public string TimeOf(string piece)
    {
        var told = TimeSpent.Of(day, plan, piece).Where(s => s.Seconds >= LeastTold).Take(4);
        return string.Join("; ", told.Select(s => $"{PlanWords.Long(s.Seconds)}: {Share(s)}"));
    }

    // The day stands once when both are on it.
    private static string When(string from, string to) => from[..^5] == to[..^5] ? $"{from} – {to[^5..]}" : $"{from} – {to}";

    private string Sentence(PlanTask task) =>
        task.Kind switch
        {
            _ when task.StartS < 0 => "It had begun when the plan was made.",
            TaskKinds.SetPoint => Heats(task),
            TaskKinds.Shake => $"It opens the round, right before the first spray. {First(task)}".TrimEnd(),
            TaskKinds.Dwell => Dwell(task),
            TaskKinds.Unload => "It follows the time in the oven at once.",
            TaskKinds.Rest => Rest(task),
            _ => Held(task),
        };

    private string Heats(PlanTask task)
    {
        var next = plan
            .Tasks.Where(t => t.Station == task.Station && t.StartS >= task.EndS && t.Kind != TaskKinds.SetPoint)
            .MinBy(t => t.StartS);
        return next is null
            ? "Nothing follows: it is switched off."
            : $"So that it is at its temperature at {clock(next.StartS)}: {words.Task(day, next)}.";
    }

    private string First(PlanTask shake) =>
        plan.Tasks.FirstOrDefault(t => t.Batch == shake.Batch && t.Kind == TaskKinds.Spray && t.StartS == shake.EndS) is { } spray
            ? Held(spray, shake.StartS)
            : "";

    private string Dwell(PlanTask task)
    {
        var steps = plan
            .Batches.First(b => b.Id == task.Batch)
            .Places.Select(p => day.Pieces.First(x => x.Id == p.Piece).Route[p.Step - 1])
            .ToList();
        var (least, most) = (steps.Max(s => s.MinS), steps.Min(s => s.MaxS) ?? 0);
        var allowed = steps.Count == 1 ? "Its piece allows" : $"All of its {steps.Count} pieces allow";
        var load = plan.Tasks.First(t => t.Batch == task.Batch && t.Kind == TaskKinds.Load);
        return $"{allowed} {Window(least, most)}. {Held(load)}";
    }

    private static string Window(int least, int most) =>
        least == most ? PlanWords.Long(least) : $"{PlanWords.Long(least)} to {PlanWords.Long(most)}";

    private string Rest(PlanTask task)
    {
        var step = day.Pieces.First(p => p.Id == task.Piece).Route[task.Step!.Value - 1];
        return $"It rests until the next step begins, by plan {StepWords.Window(step.MinS, step.MaxS)}.";
    }

    private string Held(PlanTask task, int? from = null)
    {
        var why = plan.Why.FirstOrDefault(w => task.Piece is null ? w.Batch == task.Batch : w.Piece == task.Piece && w.Step == task.Step);
        var start = from ?? task.StartS;
        return why switch
        {
            null => "The plan does not say.",
            { HeldBy: "previous step" } => AfterStep(why, task),
            { HeldBy: "rest minimum" } => "It begins as soon as the piece has rested long enough.",
            { HeldBy: "person", Name: { } person } => Busy(person, start),
            { HeldBy: "station", Name: { } station } => Taken(station, start),
            { HeldBy: "set point", Name: { } station } => $"{words.Name(station)} is at its temperature only then.",
            { HeldBy: "member" } => Waits(why),
            { HeldBy: "pin" } => why.Name is { } pinned ? $"{pinned} is pinned to this time." : "It is pinned to this time.",
            _ =>
                "Nothing stops it from starting sooner: the plan has it wait, so that more pieces share a round, a load or a session, or a longest wait is kept.",
        };
    }

    private string Waits(Why why) =>
        plan.Batches.First(b => b.Id == why.Batch).Places.Count == 1
            ? $"Its piece, {why.Name}, is not ready sooner."
            : $"It waits for {why.Name}, which belongs to it and is not ready sooner.";

    private string AfterStep(Why why, PlanTask task) =>
        why.Name switch
        {
            "transfer" => "Its print is printed and dry only then.",
            "earliest start" => "It may not begin sooner.",
            "plan begins" => "It begins at once.",
            { } piece => $"{piece} has to be finished first.",
            _ when task is { Piece: not null, Step: > 1 } => $"It begins as soon as the step before is over: {Before(task)}.",
            _ => "It begins as soon as the work before it is over.",
        };

    private string Before(PlanTask task)
    {
        var piece = day.Pieces.First(p => p.Id == task.Piece);
        return words.Step(piece.Route, task.Step!.Value - 1).ToLowerInvariant();
    }

    private string Busy(string person, int until)
    {
        if (plan.Tasks.FirstOrDefault(t => t.Person == person && t.EndS == until) is { } task)
            return $"{words.Name(person)} is busy until then: {words.Task(day, task)}.";
        return day.People.Any(p => p.Id == person && p.Shifts.Any(s => s.FromS == until))
            ? $"{words.Name(person)} comes at {clock(until)}."
            : $"{words.Name(person)} has no time sooner.";
    }

    private string Taken(string station, int until)
    {
        if (plan.Tasks.FirstOrDefault(t => t.Station == station && t.EndS == until && t.Kind != TaskKinds.Rest) is { } task)
            return $"{words.Name(station)} is in use until then: {words.Task(day, task)}.";
        return day.Stations.Any(s => s.Id == station && s.Down.Any(d => d.ToS == until))
            ? $"{words.Name(station)} cannot be used before {clock(until)}."
            : $"{words.Name(station)} has no room sooner.";
    }

    private string Share(SpentTime share) =>
        share.What switch
        {
            Spent.Work => "its own work, oven and press",
            Spent.Rest => "flash-off and cooling",
            Spent.Closed => "nobody is at work",
            Spent.Person => $"{words.Name(share.Name!)} has no hands free",
            Spent.Station => $"{words.Name(share.Name!)} is in use",
            Spent.SetPoint => $"{words.Name(share.Name!)} heats or cools",
            Spent.Member => $"waits for {share.Name} in the same load or session",
            Spent.Transfer => "its print is not ready",
            Spent.Earliest => share.Name is { } piece ? $"{piece} comes first" : "it may not begin sooner",
            Spent.Pin => "a pin",
            _ => "waits so that more pieces share a round, a load or a session",
        };
}

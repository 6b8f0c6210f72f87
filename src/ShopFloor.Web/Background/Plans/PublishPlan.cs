using System.Text;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Planning.Checking;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Background.Plans;

/// <summary>A plan that wants to be published.</summary>
/// <param name="Zero">The instant its seconds count from, UTC.</param>
/// <param name="Journal">Last journal entry its snapshot contains.</param>
/// <param name="DayJson">The day.</param>
/// <param name="PlanJson">The plan.</param>
/// <param name="Note">Why it was made.</param>
public sealed record PlanInput(DateTimeOffset Zero, long Journal, string DayJson, string PlanJson, string Note);

/// <summary>Publishes a plan as the next version, when the checker finds nothing and nothing has happened since its snapshot.</summary>
public sealed class PublishPlan(CommandRunner runner, PlanShelf shelf) : IUseCase
{
    /// <summary>Versions kept; older ones are put away.</summary>
    private const int Kept = 300;

    /// <summary>Publishes; the answer is the version's number. Refusals: <c>plan-stale</c>, <c>plan-broken</c>.</summary>
    public async Task<Result<int>> RunAsync(Asked asked, PlanInput input, CancellationToken cancel = default)
    {
        // Reading and checking take longer than a tap may wait: they are done before the write gate, which a plan that is given does not need.
        var read = Read(input);
        return read.IsOk
            ? await runner.RunAsync<PlanInput, int>(
                nameof(PublishPlan),
                Allowed.System,
                asked,
                input,
                work => DecideAsync(work, input, read.Value, cancel),
                cancel
            )
            : Result<int>.Refused(read.Refusals);
    }

    private async Task<Result<int>> DecideAsync(CommandWork work, PlanInput input, (Day Day, Plan Plan) read, CancellationToken cancel)
    {
        var latest = await work.Context.Journal.MaxAsync(j => (long?)j.Sequence, cancel) ?? 0;
        if (latest != input.Journal)
            return new Refusal("plan-stale", "Something was moved while the plan was made: a new one is on its way.");
        var last = await work.Context.Plans.MaxAsync(p => (int?)p.Number, cancel) ?? 0;
        work.Context.Plans.Add(new PlanVersion(last + 1, input.Zero, work.Now, input.Journal, input.DayJson, input.PlanJson, input.Note));
        await work.Context.Plans.Where(p => p.Number <= last - Kept).ExecuteDeleteAsync(cancel);
        shelf.Put(new ReadPlan(last + 1, input.Zero, work.Now, read.Day, read.Plan, input.Note, input.Journal));
        work.Touch(Topic.Plan, Guid.Empty);
        return last + 1;
    }

    /// <summary>The plan as anybody would read it from its file, or what is wrong with it.</summary>
    private static Result<(Day Day, Plan Plan)> Read(PlanInput input)
    {
        var bytes = Encoding.UTF8.GetBytes(input.DayJson);
        var day = DayReader.Read(bytes, "day");
        var plan = PlanReader.Read(Encoding.UTF8.GetBytes(input.PlanJson), "plan");
        if (!day.IsOk || !plan.IsOk)
            return new Refusal("plan-broken", $"The plan cannot be read: {string.Join("; ", day.Problems.Concat(plan.Problems).Take(3))}");
        var findings = PlanChecker.Check(day.Value, plan.Value, Fingerprint.Sha256(bytes));
        findings = [.. findings.Where(f => !IsFact(f, day.Value, plan.Value))];
        return findings.Count == 0
            ? (day.Value, plan.Value)
            : new Refusal("plan-broken", $"The plan breaks {findings.Count} rules, first {findings[0].Rule}: {findings[0].Text}");
    }

    // What already runs may break a rule: somebody decided so at the Bench, left a piece on the rack, or laid more on it than it has room for. No
    // plan can mend that, so it must not keep plans from being published. That a load stays in for too long is a fact only where nobody can take
    // it out sooner.
    private static bool IsFact(Finding finding, Day day, Plan plan) =>
        finding.Batches.Count > 0
            ? finding.Batches.All(b =>
                day.Running.Batches.Any(r => r.Id == b) && (finding.Rule != "dwell-outside" || !UnloadInTime.IsPossible(day, plan, b))
            )
            : finding switch
            {
                { Rule: "rest-too-long", Pieces.Count: > 0 } => finding.Pieces.All(p => HasRestedTooLong(p, day)),
                { Rule: "rack-full", Tasks.Count: > 0 } => finding.Tasks.All(t => RestsAlready(plan.Tasks[t], day)),
                _ => false,
            };

    private static bool RestsAlready(PlanTask task, Day day) =>
        day.Running.Tasks.Any(t => t.Kind == TaskKinds.Rest && t.Piece == task.Piece && t.Step == task.Step && t.Station == task.Station);

    private static bool HasRestedTooLong(string piece, Day day) =>
        day.Running.Tasks.FirstOrDefault(t => t.Kind == TaskKinds.Rest && t.Piece == piece) is { Step: { } step, StartS: var start }
        && day.Pieces.First(p => p.Id == piece).Route[step - 1].MaxS is { } most
        && start + most <= 0;
}

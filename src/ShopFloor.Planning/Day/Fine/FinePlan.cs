using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Writes a plan down anew with the persons and times of a net.</summary>
internal sealed class FinePlan
{
    private readonly Workroom room;
    private readonly Shop shop;
    private readonly FineNet fine;
    private readonly TimeOrder order;
    private readonly Plan plan;
    private readonly Dictionary<string, string> names;
    private readonly Dictionary<string, (int Start, int End)> dwell = new(StringComparer.Ordinal);

    public FinePlan(Workroom room, FineNet fine, TimeOrder order, Plan plan)
    {
        (this.room, shop, this.fine, this.order, this.plan) = (room, room.Shop, fine, order, plan);
        for (var t = 0; t < fine.Source.Length; t++)
            if (fine.Source[t] is { Kind: TaskKinds.Load or TaskKinds.Unload, Batch: { } id })
            {
                var (from, to) = dwell.GetValueOrDefault(id, (int.MinValue, int.MaxValue));
                dwell[id] = fine.Source[t].Kind == TaskKinds.Load ? (fine.Net.End(t), to) : (from, fine.Net.Start[t]);
            }
        names = Named();
    }

    /// <summary>The plan; what stopped each step is found anew.</summary>
    public Plan Write(IReadOnlyList<long> bounds)
    {
        var tasks = Tasks().Concat(Changes()).Concat(plan.Tasks.Where(IsOther).Select(Other)).ToList();
        var batches = plan
            .Batches.Select(b => b with { Id = names[b.Id] })
            .OrderBy(b => tasks.Where(t => t.Batch == b.Id).Min(t => t.StartS))
            .ThenBy(b => b.Id, StringComparer.Ordinal)
            .ToList();
        return PlanMaker.Rewritten(room, plan, tasks, batches, bounds);
    }

    private IEnumerable<PlanTask> Tasks() =>
        fine.Source.Select(
            (task, t) =>
                task with
                {
                    StartS = fine.Net.Start[t],
                    EndS = fine.Net.End(t),
                    Person = order.Person[t] < 0 ? task.Person : shop.People[order.Person[t]].Id,
                    Batch = task.Batch is { } id ? names[id] : null,
                }
        );

    /// <summary>Changes of set points, each as late as can be; what runs already stays.</summary>
    private IEnumerable<PlanTask> Changes()
    {
        foreach (
            var given in plan.Tasks.Where(t => t.Kind == TaskKinds.SetPoint && RunningChange(t.Station) is { } r && r.StartS == t.StartS)
        )
            yield return given;
        foreach (var place in shop.Heated)
        {
            var held = RunningChange(place.Station.Id)?.ToTenthsC ?? place.Station.Heat.NowTenthsC;
            foreach (var unit in order.Stations.SelectMany(s => s).Where(u => fine.Source[u.Tasks[0]].Station == place.Station.Id))
            {
                var (first, lead) = (unit.Tasks[0], order.Lead[unit.Tasks[0]]);
                if (lead > 0)
                    yield return new PlanTask(
                        TaskKinds.SetPoint,
                        place.Station.Id,
                        null,
                        fine.Net.Start[first] - lead,
                        fine.Net.Start[first],
                        FromTenthsC: held,
                        ToTenthsC: unit.TenthsC
                    );
                held = unit.TenthsC;
            }
        }
    }

    private PlanTask? RunningChange(string station) =>
        Array.Find(shop.Running.Tasks, t => t.Kind == TaskKinds.SetPoint && t.Station == station);

    private static bool IsOther(PlanTask task) => task.Kind is TaskKinds.Rest or TaskKinds.Dwell;

    /// <summary>A rest from the end of what was before it to the start of what comes after, a dwell from loading to unloading.</summary>
    private PlanTask Other(PlanTask task)
    {
        if (task.Kind == TaskKinds.Dwell)
        {
            var (from, to) = dwell[task.Batch!];
            return task with { StartS = from == int.MinValue ? task.StartS : from, EndS = to, Batch = names[task.Batch!] };
        }
        var nodes = shop.Nodes.Where(n => shop.Pieces[n.Piece].Id == task.Piece).ToList();
        var before = nodes.Find(n => n.StepNumber == task.Step - 1);
        var after = nodes.Find(n => n.StepNumber == task.Step + 1);
        return task with
        {
            StartS = before is null || fine.Last[before.Index] < 0 ? task.StartS : fine.Net.End(fine.Last[before.Index]),
            EndS = after is null || fine.First[after.Index] < 0 ? task.EndS : fine.Net.Start[fine.First[after.Index]],
        };
    }

    /// <summary>R…, L… and S… count by start again; running batches keep their names.</summary>
    private Dictionary<string, string> Named()
    {
        var running = shop.Running.Batches.Select(b => b.Batch.Id).ToHashSet(StringComparer.Ordinal);
        var starts = Enumerable
            .Range(0, fine.Source.Length)
            .Where(t => fine.Source[t].Batch is not null)
            .GroupBy(t => fine.Source[t].Batch!, StringComparer.Ordinal)
            .ToDictionary(g => g.Key, g => g.Min(t => fine.Net.Start[t]), StringComparer.Ordinal);
        var result = plan.Batches.ToDictionary(b => b.Id, b => b.Id, StringComparer.Ordinal);
        foreach (var kind in plan.Batches.Where(b => !running.Contains(b.Id)).GroupBy(b => b.Kind, StringComparer.Ordinal))
        {
            var ids = kind.Select(b => b.Id).OrderBy(Number).ToList();
            var byStart = kind.OrderBy(b => starts.GetValueOrDefault(b.Id)).ThenBy(b => Number(b.Id)).ToList();
            for (var i = 0; i < ids.Count; i++)
                result[byStart[i].Id] = ids[i];
        }
        return result;
    }

    private static int Number(string id) => int.Parse(id.AsSpan(1), CultureInfo.InvariantCulture);
}

using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Sums up what a finished plan costs, from its tasks.</summary>
internal sealed class ObjectiveSum(Shop shop)
{
    private readonly Dictionary<string, Person> people = shop.People.ToDictionary(p => p.Id, StringComparer.Ordinal);

    public Objective Of(
        IReadOnlyList<PlanTask> tasks,
        IReadOnlyList<Batch> batches,
        int leftOut,
        (long Seconds, int Pieces) late,
        long changed,
        PartBounds bounds
    )
    {
        var (overtime, dwell, shakes, changes, finish) = (0L, 0L, 0L, 0L, 0L);
        foreach (var task in tasks)
        {
            var length = task.EndS!.Value - task.StartS;
            switch (task.Kind)
            {
                case TaskKinds.Rest:
                    continue;
                case TaskKinds.Dwell:
                    dwell += length;
                    continue;
                case TaskKinds.SetPoint:
                    changes += task.ToTenthsC == shop.Day.RoomTenthsC ? 0 : 1;
                    continue;
                case TaskKinds.Shake:
                    shakes++;
                    break;
            }
            finish = Math.Max(finish, task.EndS.Value);
            overtime += Overtime(task);
        }
        var w = shop.Day.Weights;
        (long Amount, long Weight)[] parts =
        [
            (leftOut, w.LeftOut),
            (late.Seconds, w.LateS),
            (late.Pieces, w.LatePieces),
            (overtime, w.OvertimeS),
            (batches.Count(b => b.Kind == BatchKinds.Load), w.OvenLoads),
            (dwell, w.OvenS),
            (shakes, w.Shakes),
            (changes, w.SetPoints),
            (finish, w.FinishS),
            (changed, w.Changed),
        ];
        var least = bounds.Under([.. parts.Select(p => p.Amount * p.Weight)]);
        var written = parts.Select((p, i) => new ObjectivePart(Objective.Names[i], p.Amount, p.Amount * p.Weight, least[i])).ToList();
        return new Objective(written.Sum(p => p.Points), written.Sum(p => p.Bound), written);
    }

    private long Overtime(PlanTask task)
    {
        var sum = 0L;
        if (task.Person is { } id)
            foreach (var shift in people[id].Shifts)
                sum += Math.Max(0L, (long)Math.Min(task.EndS!.Value, shift.ToS) - Math.Max(task.StartS, shift.NormalToS));
        return sum;
    }
}

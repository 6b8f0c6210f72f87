namespace ShopFloor.Planning.Layout;

/// <summary>
/// Lays all pieces of a task on as few equal surfaces as it can: a first answer from plain orders at once, then surface after surface
/// is taken away and its pieces are laid on the others. Resumable: the answer depends on the seed and on the steps done so far.
/// </summary>
public sealed class FewestSurfaces
{
    private readonly LayoutTask task;
    private readonly int surface;
    private readonly ulong seed;
    private readonly int[] items;
    private FillSearch? search;
    private Place[] best;

    /// <summary>Finds the first answer.</summary>
    /// <param name="task">The pieces; those that cannot lie on the surface are left out (see <see cref="LayoutTask.Faults"/>).</param>
    /// <param name="surface">Which of the task's surfaces there is any number of.</param>
    /// <param name="seed">Fixes the random choices.</param>
    public FewestSurfaces(LayoutTask task, int surface, ulong seed)
    {
        this.task = task;
        this.surface = surface;
        this.seed = seed;
        items = [.. Enumerable.Range(0, task.Footprints.Count).Where(i => task.MayLie(i, surface))];
        Bound = LayoutBounds.Fewest(task, items, surface);
        best = FirstAnswer();
        Count = best.Length == 0 ? 0 : best.Max(p => p.Surface) + 1;
    }

    /// <summary>How many surfaces the best answer uses.</summary>
    public int Count { get; private set; }

    /// <summary>No answer can use fewer.</summary>
    public int Bound { get; }

    /// <summary>The best answer; <see cref="Place.Surface"/> counts the used surfaces from 0.</summary>
    public IReadOnlyList<Place> Places =>
        [.. best.GroupBy(p => p.Surface).SelectMany(g => StraightRows.Straighten(task, surface, [.. g])).Select(Outside)];

    /// <summary>Searches on for a number of steps or until the bound is met.</summary>
    /// <param name="steps">Pieces placed or tried.</param>
    /// <param name="cancel">Ends the search early.</param>
    public void Improve(long steps, CancellationToken cancel)
    {
        while (Count > Bound && steps > 0 && !cancel.IsCancellationRequested)
        {
            search ??= Start(Count - 1);
            var before = search.Steps;
            var complete = search.Run(steps, cancel);
            steps -= search.Steps - before;
            if (!complete)
                continue;
            best = [.. search.Places];
            Count--;
            search = null;
        }
    }

    private FillSearch Start(int count)
    {
        var next = new FillSearch(task, Enumerable.Repeat(surface, count).ToArray()).Begin(items, seed + (ulong)count);
        next.Greedy();
        return next;
    }

    private Place[] FirstAnswer()
    {
        var count = Bound;
        while (true)
        {
            var first = new FillSearch(task, Enumerable.Repeat(surface, count).ToArray()).Begin(items, seed);
            if (first.Greedy())
                return [.. first.Places];
            count++;
        }
    }

    private Place Outside(Place p) => p with { X = p.X + task.Spacing.Margin, Y = p.Y + task.Spacing.Margin };
}

using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>What of a day no line-up changes, in flat arrays. An op is a step that is no load's or session's, the shake before a
/// spray when something else is done between the two, a given task that is still to come, the loading of an oven or a press session, or an unloading.</summary>
internal sealed class LineUpShop
{
    /// <summary>The shop with what its plan fixes.</summary>
    /// <param name="room">The day.</param>
    /// <param name="plan">A plan of it: what it keeps of pins is kept, and whoever works overtime in a shift may go on doing so.</param>
    public LineUpShop(Workroom room, Plan plan)
    {
        (Room, Shop) = (room, room.Shop);
        var nodes = Shop.Nodes;
        var starts = new PlanStarts(Shop, plan);
        Given = [.. starts.Given];
        BatchEnd = starts.BatchEnd;
        Starts = starts;
        FirstGiven = 2 * nodes.Length;
        FirstBatch = FirstGiven + Given.Length;
        MostBatches = nodes.Count(n => n.IsHeated);
        Ops = FirstBatch + (2 * MostBatches);
        (Earliest, Latest, Length) = (new int[FirstBatch], new int[FirstBatch], new int[FirstBatch]);
        foreach (var node in nodes)
            Limit(node, starts);
        for (var g = 0; g < Given.Length; g++)
        {
            var at = FirstGiven + g;
            (Earliest[at], Latest[at]) = (Given[g].StartS, Given[g].StartS);
            Length[at] = Given[g].EndS!.Value - Given[g].StartS;
        }
        Shifts = [.. Shop.People.Select(p => ShiftsOf(p, plan))];
        PersonFrom = [.. Shop.People.Select(p => RunningEnd(t => t.Person == p.Id))];
        BoothFrom = [.. Shop.Booths.Select(b => RunningEnd(t => t.Station == b.Id))];
        HeatedFrom = [.. Shop.Heated.Select(h => starts.StationFrom(h))];
        Followers = [.. Enumerable.Range(0, Shop.Pieces.Length).Select(_ => new List<int>())];
        for (var p = 0; p < Shop.Pieces.Length; p++)
            foreach (var other in Shop.After[p])
                Followers[other].Add(p);
        IsPlanned = [.. Shop.Pieces.Select(p => !plan.LeftOut.Any(l => l.Piece == p.Id))];
    }

    /// <summary>The day made ready for planning.</summary>
    public Workroom Room { get; }

    public Shop Shop { get; }

    /// <summary>Running tasks by hand that begin later, as the unloading of what dwells now.</summary>
    public PlanTask[] Given { get; }

    /// <summary>The op of the first given task.</summary>
    public int FirstGiven { get; }

    /// <summary>The op that begins the first batch; each batch has two.</summary>
    public int FirstBatch { get; }

    public int MostBatches { get; }

    public int Ops { get; }

    /// <summary>Earliest start of each step or given task, by itself.</summary>
    public int[] Earliest { get; }

    /// <summary>Latest start of each step or given task, by itself.</summary>
    public int[] Latest { get; }

    public int[] Length { get; }

    /// <summary>Shifts of each person, and until when they are normal.</summary>
    public (int From, int NormalTo, int To)[][] Shifts { get; }

    /// <summary>From when each person is free.</summary>
    public int[] PersonFrom { get; }

    /// <summary>From when each booth is free.</summary>
    public int[] BoothFrom { get; }

    /// <summary>When each running batch ends.</summary>
    public int[] BatchEnd { get; }

    /// <summary>What the plan says of each step.</summary>
    public PlanStarts Starts { get; }

    /// <summary>Set point of each oven and press and from when it can change.</summary>
    public (int TenthsC, int From)[] HeatedFrom { get; }

    /// <summary>Pieces that come after each piece.</summary>
    public List<int>[] Followers { get; }

    public bool[] IsPlanned { get; }

    public bool IsStep(int op) => op < Shop.Nodes.Length;

    public bool IsShake(int op) => op >= Shop.Nodes.Length && op < FirstGiven;

    /// <summary>The op of the shake before a spray.</summary>
    public int ShakeOf(int spray) => Shop.Nodes.Length + spray;

    /// <summary>The spray that a shake is for.</summary>
    public int SprayOf(int shake) => shake - Shop.Nodes.Length;

    public bool IsGiven(int op) => op >= FirstGiven && op < FirstBatch;

    public bool IsBatch(int op) => op >= FirstBatch;

    public int BatchAt(int op) => (op - FirstBatch) >> 1;

    public bool IsUnload(int op) => op >= FirstBatch && ((op - FirstBatch) & 1) == 1;

    public int LoadOp(int batch) => FirstBatch + (2 * batch);

    /// <summary>Whether a line-up says all that decides about times on this day: no booth shares its air with an oven, no running work is past
    /// mending, and no running round still waits for its first spray.</summary>
    public static bool Suits(Shop shop) =>
        !Array.Exists(shop.SharedOvens, o => o.Length > 0)
        && !Array.Exists(shop.Nodes, n => n.MaxLag < 0)
        && !Array.Exists(shop.Running.Batches, b => b.Shake is not null && b.Sprays.Length == 0);

    private void Limit(Node node, PlanStarts starts)
    {
        var (n, start) = (node.Index, starts.Start[node.Index]);
        var (earliest, latest) = (Math.Max(0, node.Ready), Shop.Horizon - Math.Max(1, node.Length));
        if (node.PinnedNotBefore <= start)
            earliest = Math.Max(earliest, node.PinnedNotBefore);
        if (node.Before < 0 && (node.GivenBatch >= 0 ? starts.BatchEnd[node.GivenBatch] : node.GivenEnd) is var end and > int.MinValue)
        {
            earliest = Math.Max(earliest, end + node.MinLag);
            latest = node.IsTight ? Math.Min(latest, end + node.MaxLag) : latest;
        }
        if (node.IsSpray && starts.UseBy[n] is var useBy)
            latest = Math.Min(latest, useBy - node.Length);
        if (node.PinnedAt >= 0 && node.PinnedAt == start)
            (earliest, latest) = (start, start);
        (Earliest[n], Latest[n], Length[n]) = (earliest, latest, node.Length);
        if (node.IsSpray)
            (Latest[ShakeOf(n)], Length[ShakeOf(n)]) = (latest, Shop.Coatings[node.Coating].ShakeS);
    }

    private int RunningEnd(Func<PlanTask, bool> which) =>
        Math.Max(0, Shop.Running.Tasks.Where(t => which(t)).Select(t => t.EndS ?? 0).DefaultIfEmpty().Max());

    private (int, int, int)[] ShiftsOf(Person person, Plan plan)
    {
        bool IsLong(Shift s) =>
            plan.Tasks.Any(t => t.Person == person.Id && t.StartS >= s.FromS && t.StartS < s.ToS && t.EndS > s.NormalToS);
        return
        [
            .. person
                .Shifts.Select(s => (s.FromS, s.NormalToS, To: Math.Min(IsLong(s) ? s.ToS : s.NormalToS, Shop.Horizon)))
                .Where(s => s.To > s.FromS),
        ];
    }
}

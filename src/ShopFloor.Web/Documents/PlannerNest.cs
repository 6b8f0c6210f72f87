using ShopFloor.Documents.Pdf;
using ShopFloor.Documents.Sheets;
using ShopFloor.Planning.Layout;

namespace ShopFloor.Web.Documents;

/// <summary>Lays transfers on paper with the planner that lays pieces on shelves. The same transfers give the same sheets.</summary>
public static class PlannerNest
{
    private const ulong Seed = 20_260_101;

    /// <summary>Enough to come within a sheet of the bound for a day's transfers in a second or two.</summary>
    private const long Steps = 200_000;

    /// <summary>As the papers ask for it: millimetres in and out.</summary>
    public static Nesting Run(IReadOnlyList<SizeMm> boxes, SizeMm area, double gapMm)
    {
        var footprints = boxes.Select((b, i) => new Footprint($"{i:D6}", Up(b.Width), Up(b.Height), 0, MayTurn: true)).ToList();
        var surface = new Surface((int)Math.Floor(area.Width * 1000), (int)Math.Floor(area.Height * 1000));
        var task = LayoutTask.Create([surface], new Spacing(0, Up(gapMm)), footprints);
        if (task.Faults.Count > 0)
            throw new ArgumentException($"Boxes that do not fit: {task.Faults[0].Text}", nameof(boxes));
        var search = new FewestSurfaces(task, 0, Seed);
        search.Improve(Steps, CancellationToken.None);
        return new Nesting(
            [.. search.Places.Select(p => new NestedBox(p.Piece, p.Surface, p.X / 1000.0, p.Y / 1000.0, p.Turned))],
            search.Count,
            search.Bound
        );
    }

    private static int Up(double mm) => (int)Math.Ceiling(mm * 1000);
}

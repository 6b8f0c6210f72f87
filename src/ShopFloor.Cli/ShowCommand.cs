using System.Text;
using ShopFloor.Planning.Exchange;

namespace ShopFloor.Cli;

/// <summary>Draws a plan as text: a row per person and station, and every lay-out to scale.</summary>
internal static class ShowCommand
{
    private const int Columns = 96;
    private const int LayoutColumns = 60;

    public static int Run(CommandLine line, TextWriter output)
    {
        var day = Files.Day(line.FileNames[0], out _);
        var plan = Files.Plan(line.FileNames[1]);
        Timeline(day, plan, output);
        foreach (var batch in plan.Batches)
            Batch(day, plan, batch, output);
        if (plan.Why.Count > 0)
            Why(plan, output);
        return Commands.Fine;
    }

    private static void Why(Plan plan, TextWriter output)
    {
        output.WriteLine();
        output.WriteLine("What stopped each from starting a second earlier:");
        foreach (var why in plan.Why)
        {
            var what = why.Batch ?? string.Create(CultureInfo.InvariantCulture, $"{why.Piece} step {why.Step}");
            output.WriteLine($"  {what}: {why.HeldBy}{(why.Name is null ? "" : $" {why.Name}")}");
        }
        foreach (var why in plan.Why.Where(w => w.Helps is not null))
            output.WriteLine($"{why.Piece} is late; would help: {why.Helps}");
    }

    private static void Timeline(Day day, Plan plan, TextWriter output)
    {
        if (plan.Tasks.Count == 0)
        {
            output.WriteLine("no tasks");
            return;
        }
        var (from, to) = (plan.Tasks.Min(t => t.StartS), plan.Tasks.Max(t => t.EndS ?? t.StartS));
        var perColumn = Math.Max(1, (to - from + Columns - 1) / Columns);
        output.WriteLine(
            $"{day.Zero.AddSeconds(from):yyyy-MM-dd HH:mm} to {day.Zero.AddSeconds(to):yyyy-MM-dd HH:mm}, {perColumn} s a column"
        );
        output.WriteLine(
            "c clean  w wipe  m mask  k shake  s spray  . rest  ~ set point  l load  = dwell  u unload  t tape  P press  i inspect  p pack"
        );
        foreach (var person in day.People.Select(p => p.Id).Order(StringComparer.Ordinal))
            Row(person, plan.Tasks.Where(t => t.Person == person), from, perColumn, output);
        foreach (var station in day.Stations.Select(s => s.Id).Order(StringComparer.Ordinal))
            Row(station, plan.Tasks.Where(t => t.Station == station), from, perColumn, output);
    }

    private static void Row(string name, IEnumerable<PlanTask> tasks, int from, int perColumn, TextWriter output)
    {
        var row = new char[Columns];
        Array.Fill(row, ' ');
        foreach (var task in tasks.OrderBy(t => t.Kind is TaskKinds.Rest or TaskKinds.SetPoint ? 0 : 1))
            for (var c = (task.StartS - from) / perColumn; c < Columns && from + (c * perColumn) < task.EndS; c++)
                row[c] = Letter(task.Kind);
        output.WriteLine($"{name, -12}|{new string(row)}|");
    }

    private static char Letter(string kind) =>
        kind switch
        {
            TaskKinds.Shake => 'k',
            TaskKinds.Rest => '.',
            TaskKinds.SetPoint => '~',
            TaskKinds.Dwell => '=',
            TaskKinds.Press => 'P',
            _ => kind[0],
        };

    private static void Batch(Day day, Plan plan, Batch batch, TextWriter output)
    {
        var tasks = plan.Tasks.Where(t => t.Batch == batch.Id).ToList();
        output.WriteLine();
        var when = tasks.Count == 0 ? "" : $" {day.Zero.AddSeconds(tasks.Min(t => t.StartS)):ddd HH:mm} at {tasks[0].Station}";
        output.WriteLine($"{batch.Id} {batch.Kind}{when}{Setting(batch)}");
        if (batch.Kind == BatchKinds.Round)
            output.WriteLine("  " + string.Join(", ", tasks.Where(t => t.Piece is not null).Select(t => t.Piece)));
        var station = tasks.Count == 0 ? null : day.Stations.FirstOrDefault(s => s.Id == tasks[0].Station);
        foreach (var shelf in batch.Places.GroupBy(p => p.Shelf).OrderBy(g => g.Key))
            if (Surface(station, shelf.Key) is var (width, depth))
                Layout(day, [.. shelf], shelf.Key, width, depth, output);
    }

    private static string Setting(Batch b) =>
        b.Kind == BatchKinds.Round ? $", {b.Coating} from {b.Can}"
        : b.Kind == BatchKinds.Session ? $", {b.TenthsC / 10m} °C, {b.PressS} s, {b.Pressure}, {b.LayUp}"
        : $", {b.TenthsC / 10m} °C";

    private static (int Width, int Depth)? Surface(Station? station, int? shelf) =>
        station switch
        {
            Oven oven when shelf is { } n && n >= 1 && n <= oven.Shelves.Count => (
                oven.Shelves[n - 1].WidthUm,
                oven.Shelves[n - 1].DepthUm
            ),
            Press press => (press.WidthUm, press.DepthUm),
            _ => null,
        };

    private static void Layout(Day day, List<Place> places, int? shelf, int width, int depth, TextWriter output)
    {
        var perColumn = width / (double)LayoutColumns;
        var rows = Math.Max(1, (int)Math.Round(depth / perColumn / 2));
        var grid = Enumerable.Range(0, rows).Select(_ => new StringBuilder(new string('.', LayoutColumns))).ToList();
        for (var i = 0; i < places.Count; i++)
        {
            var place = places[i];
            if (day.Pieces.FirstOrDefault(p => p.Id == place.Piece) is not { } piece)
                continue;
            var (w, d) = place.Turned ? (piece.DepthUm, piece.WidthUm) : (piece.WidthUm, piece.DepthUm);
            for (var r = 0; r < rows; r++)
            for (var c = 0; c < LayoutColumns; c++)
            {
                var (x, y) = ((c + 0.5) * perColumn, (r + 0.5) * depth / rows);
                if (x >= place.XUm && x < (double)place.XUm + w && y >= place.YUm && y < (double)place.YUm + d)
                    grid[rows - 1 - r][c] = Mark(i);
            }
        }
        output.WriteLine(shelf is null ? "  platen" : $"  shelf {shelf}");
        foreach (var row in grid)
            output.WriteLine("  " + row);
        output.WriteLine("  " + string.Join("  ", places.Select((p, i) => $"{Mark(i)} {p.Piece}{(p.Turned ? " turned" : "")}")));
    }

    private static char Mark(int i) => (char)((i < 26 ? 'A' : 'a') + (i % 26));
}

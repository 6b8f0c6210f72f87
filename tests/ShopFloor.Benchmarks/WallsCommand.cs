using System.Diagnostics;
using ShopFloor.Benchmarks.Circuits;

namespace ShopFloor.Benchmarks;

/// <summary>How long a move at the Bench takes to be on every Wall, with many Walls open, and how long a full Bench page takes.</summary>
internal static class WallsCommand
{
    public static int Run(Arguments arguments) => RunAsync(arguments).GetAwaiter().GetResult();

    private static async Task<int> RunAsync(Arguments arguments)
    {
        var (walls, moves) = ((int)arguments.Number("walls", 50), (int)arguments.Number("moves", 40));
        var (pieces, every) = ((int)arguments.Number("pieces", 200), TimeSpan.FromSeconds(arguments.Number("every", 2)));
        using var server = new ServerProcess(arguments.TryText("server"));
        await server.StartAsync();
        await server.KillAsync();
        IReadOnlyList<string> codes;
        await using (var shop = new LoadShop(server.Folder))
            codes = await shop.AddOwnPiecesAsync(pieces);
        await server.StartAsync();
        using var bench = await Visitor.EnterAsync(server.Address, "bench");
        await PagesAsync(bench, codes);
        var open = await OpenAsync(bench, walls);
        var late = await MoveAsync(bench, open, codes, (moves, every));
        Say($"a move on {walls} walls, {late.Count} views", late);
        var bytes = open.Sum(c => c.Bytes) / Math.Max(1, open.Sum(c => c.Batches));
        Console.WriteLine(
            FormattableString.Invariant($"a batch of a wall: {bytes} bytes in the mean, {open.Count(c => c.Trouble is not null)} broken")
        );
        foreach (var circuit in open)
            await circuit.DisposeAsync();
        return 0;
    }

    private static async Task PagesAsync(Visitor bench, IReadOnlyList<string> codes)
    {
        for (var warm = 0; warm < 5; warm++)
            await bench.OpenBenchAsync();
        var took = new List<double>();
        for (var i = 0; i < 20; i++)
            took.Add((await bench.OpenBenchAsync()).TotalMilliseconds);
        Say($"the Bench with {codes.Count} more open pieces, the page", took);
        took.Clear();
        for (var i = 0; i < 20; i++)
        {
            var began = Stopwatch.GetTimestamp();
            await bench.Http.GetStringAsync(new Uri($"b/{codes[i % codes.Count]}", UriKind.Relative));
            took.Add(Stopwatch.GetElapsedTime(began).TotalMilliseconds);
        }
        Say("a piece's page", took);
    }

    private static async Task<IReadOnlyList<CircuitClient>> OpenAsync(Visitor bench, int walls)
    {
        var (open, took) = (new List<CircuitClient>(), new List<double>());
        for (var i = 0; i < walls; i++)
        {
            var began = Stopwatch.GetTimestamp();
            open.Add(await CircuitClient.OpenAsync(bench.Session, "wall"));
            took.Add(Stopwatch.GetElapsedTime(began).TotalMilliseconds);
        }
        Say("a wall until its circuit has drawn", took);
        return open;
    }

    // Each move ends the promoter of another piece: from then on its coat must follow within a time, which is on every wall under its code.
    private static async Task<List<double>> MoveAsync(
        Visitor bench,
        IReadOnlyList<CircuitClient> walls,
        IReadOnlyList<string> codes,
        (int Count, TimeSpan Every) moves
    )
    {
        var (late, taps) = (new List<double>(), new List<double>());
        for (var i = 0; i < moves.Count; i++)
        {
            await Task.Delay(moves.Every);
            var code = codes[i % codes.Count];
            var seen = walls.Select(w => w.NextAsync(code)).ToList();
            var began = Stopwatch.GetTimestamp();
            var answer = await bench.TapAsync(
                Guid.CreateVersion7(),
                new
                {
                    move = "finish",
                    code,
                    step = 2,
                }
            );
            taps.Add(Stopwatch.GetElapsedTime(began).TotalMilliseconds);
            if (!answer.Ok)
                throw new InputFault(answer.Text);
            var stamps = await Task.WhenAll(seen).WaitAsync(TimeSpan.FromSeconds(20));
            // The first moves find cold code; they are made and not counted.
            if (i >= 3)
                late.AddRange(stamps.Select(s => Stopwatch.GetElapsedTime(began, s).TotalMilliseconds));
        }
        Say("a tap until it is answered", taps);
        return late;
    }

    private static void Say(string what, List<double> milliseconds)
    {
        milliseconds.Sort();
        double At(double share) => milliseconds[Math.Min(milliseconds.Count - 1, (int)(milliseconds.Count * share))];
        Console.WriteLine(
            FormattableString.Invariant(
                $"{what}: p50 {At(0.5):0} ms, p95 {At(0.95):0} ms, p99 {At(0.99):0} ms, longest {milliseconds[^1]:0} ms"
            )
        );
    }
}

using System.Diagnostics;

namespace ShopFloor.Benchmarks.Circuits;

/// <summary>So many counters order at once, each over a circuit of its own: how long each tap takes on the server, and what a circuit costs.</summary>
internal static class CounterCommand
{
    public static int Run(Arguments args) => RunAsync(args.Text("app"), args.Numbers("circuits") ?? [5, 50]).GetAwaiter().GetResult();

    private static async Task<int> RunAsync(string dll, int[] sizes)
    {
        using var app = await AppUnderTest.StartAsync(dll);
        using var session = new BrowserSession(app.Site);
        await session.SignInAsync("counter", "moorlight counter");
        // The first orders pay for compiling and caches; they are not counted.
        await OrderAsync(session, 2, new Timings(), app, told: false);
        foreach (var count in sizes)
        {
            var timings = new Timings();
            Console.WriteLine($"{count} counters at once");
            await OrderAsync(session, count, timings, app, told: true);
            foreach (var line in timings.Lines())
                Console.WriteLine(line);
        }
        return 0;
    }

    private static async Task OrderAsync(BrowserSession session, int count, Timings timings, AppUnderTest app, bool told)
    {
        var before = await app.MemoryAsync();
        var clients = new List<CircuitClient>();
        try
        {
            for (var i = 0; i < count; i++)
                await timings.MeasureAsync("open the first step", async () => clients.Add(await CounterWalk.BeginAsync(session)));
            var open = await app.MemoryAsync();
            var (started, processor) = (Stopwatch.GetTimestamp(), app.Processor);
            await Task.WhenAll(clients.Select((c, i) => new CounterWalk(c, timings, new Random(i)).OrderAsync()));
            var busy = (app.Processor - processor) / Stopwatch.GetElapsedTime(started);
            var walked = await app.MemoryAsync();
            if (told)
                Console.WriteLine(
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"  a circuit holds {PerCircuit(open, before, count):0.00} MB when opened, {PerCircuit(walked, before, count):0.00} MB after the order; working set {walked.WorkingSet / 1e6:0} MB; {busy:0.00} processors busy; {clients.Sum(c => c.Bytes) / count / 1e3:0} KB of rendering each"
                    )
                );
        }
        finally
        {
            foreach (var client in clients)
                await client.DisposeAsync();
        }
    }

    private static double PerCircuit(AppMemory after, AppMemory before, int count) => (after.Heap - before.Heap) / 1e6 / count;
}

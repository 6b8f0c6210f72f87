using System.Diagnostics;

namespace ShopFloor.Benchmarks.Circuits;

/// <summary>So many counters order at once, each over a circuit of its own: how long each tap takes on the server, and what a circuit costs.</summary>
internal static class CounterCommand
{
    private sealed record Load(ServerProcess Server, HeapProbe Probe, BrowserSession Session, TimeSpan Pause);

    public static int Run(Arguments args) => RunAsync(args).GetAwaiter().GetResult();

    private static async Task<int> RunAsync(Arguments args)
    {
        using var server = new ServerProcess(args.TryText("server"));
        var probe = new HeapProbe(server);
        await server.StartAsync();
        using var session = new BrowserSession(server.Address);
        await session.SignInAsync("counter", "moorlight counter");
        var pause = TimeSpan.FromSeconds(args.Number("pause", 3));
        // The first orders pay for compiling and caches; they are not counted.
        await OrderAsync(new Load(server, probe, session, TimeSpan.FromSeconds(0.2)), 3, new Timings());
        foreach (var count in args.Numbers("circuits") ?? [5, 50])
        {
            var timings = new Timings();
            var cost = await OrderAsync(new Load(server, probe, session, pause), count, timings);
            Console.WriteLine($"{count} counters at once, a tap each {pause.TotalSeconds:0.#} s");
            foreach (var line in timings.Lines().Append(cost))
                Console.WriteLine(line);
        }
        return 0;
    }

    /// <summary>All order at once; what their circuits cost.</summary>
    private static async Task<string> OrderAsync(Load load, int count, Timings timings)
    {
        var clients = new List<CircuitClient>();
        var before = await load.Probe.AskAsync();
        try
        {
            for (var i = 0; i < count; i++)
                await timings.MeasureAsync("open the first step", async () => clients.Add(await CounterWalk.BeginAsync(load.Session)));
            var open = await load.Probe.AskAsync();
            var (started, processor) = (Stopwatch.GetTimestamp(), load.Server.Processor);
            await Task.WhenAll(clients.Select((c, i) => new CounterWalk(c, timings, load.Pause, new Random(i)).OrderAsync()));
            var busy = (load.Server.Processor - processor) / Stopwatch.GetElapsedTime(started);
            var walked = await load.Probe.AskAsync();
            return string.Create(
                CultureInfo.InvariantCulture,
                $"  a circuit holds {PerCircuit(open, before, count):0.00} MB when opened, {PerCircuit(walked, before, count):0.00} MB after the order; working set {walked.WorkingSet / 1e6:0} MB; {busy:0.00} processors busy; {clients.Sum(c => c.Bytes) / count / 1e3:0} KB of rendering each"
            );
        }
        finally
        {
            foreach (var client in clients)
                await client.DisposeAsync();
        }
    }

    private static double PerCircuit(HeldMemory after, HeldMemory before, int count) => (after.Heap - before.Heap) / 1e6 / count;
}

using System.Diagnostics;
using ShopFloor.Benchmarks.Circuits;

namespace ShopFloor.Benchmarks;

/// <summary>How long a move at the Bench waits while a long file of orders is taken in.</summary>
internal static class ImportCommand
{
    public static int Run(Arguments args) =>
        RunAsync((int)args.Number("rows", 10_000), (int)args.Number("moves", 160), args.Number("every", 0.15)).GetAwaiter().GetResult();

    private static async Task<int> RunAsync(int rows, int moves, double every)
    {
        using var server = new ServerProcess(null);
        await server.StartAsync();
        await server.KillAsync();
        await using var shop = new LoadShop(server.Folder);
        await shop.ImportAsync(ImportFile.Customer);
        await shop.ImportAsync(ImportFile.Orders("move", moves));
        var codes = await shop.CodesAsync("move");
        Say("without an import", await MoveAsync(shop, codes.Take(moves / 4), Task.Delay(Timeout.Infinite), every));
        var watch = Stopwatch.StartNew();
        var import = Task.Run(() => shop.ImportAsync(ImportFile.Orders("load", rows)));
        Say("while it runs", await MoveAsync(shop, codes.Skip(moves / 4), import, every));
        var taken = await import;
        Console.WriteLine(FormattableString.Invariant($"{taken} of {rows} orders taken in, {watch.Elapsed.TotalSeconds:0.0} s"));
        return taken == rows ? 0 : 1;
    }

    private static async Task<List<double>> MoveAsync(LoadShop shop, IEnumerable<string> codes, Task until, double every)
    {
        var took = new List<double>();
        foreach (var code in codes)
        {
            if (until.IsCompleted)
                break;
            var began = Stopwatch.GetTimestamp();
            await shop.ReceiveAsync(code);
            took.Add(Stopwatch.GetElapsedTime(began).TotalMilliseconds);
            await Task.Delay(TimeSpan.FromSeconds(every));
        }
        return took;
    }

    private static void Say(string what, List<double> took)
    {
        took.Sort();
        Console.WriteLine(
            FormattableString.Invariant(
                $"{took.Count} moves {what}: median {took[took.Count / 2]:0} ms, 95 % {took[took.Count * 95 / 100]:0} ms, longest {took[^1]:0} ms"
            )
        );
    }
}

using System.Diagnostics;
using ShopFloor.Benchmarks.Circuits;

namespace ShopFloor.Benchmarks;

/// <summary>A long print run asked for by a browser: the server in a process of its own, its time and the most memory it ever held.</summary>
internal static class SheetsOverHttp
{
    /// <summary>Books an order of so many pieces, each with a photo of its own, and asks for its sheets on A4.</summary>
    public static async Task RunAsync(int pages, IReadOnlyList<string> photos)
    {
        using var server = new ServerProcess(null);
        await server.StartAsync();
        await server.KillAsync();
        int order;
        await using (var shop = new LoadShop(server.Folder))
        {
            await shop.ImportAsync(ImportFile.Customer);
            await shop.ImportAsync(ImportFile.Orders("pictures", pages, together: true));
            order = await shop.PictureAsync("pictures", photos);
        }
        await server.StartAsync();
        using var bench = await Visitor.EnterAsync(server.Address, "bench");
        using var cookies = new HttpClientHandler { CookieContainer = bench.Session.Cookies };
        using var patient = new HttpClient(cookies) { BaseAddress = server.Address, Timeout = TimeSpan.FromMinutes(5) };
        var before = server.PeakMemory;
        foreach (var time in new[] { "first", "second" })
        {
            var watch = Stopwatch.StartNew();
            var address = new Uri(FormattableString.Invariant($"papers/sheets/{order}?form=A4"), UriKind.Relative);
            using var answer = await patient.GetAsync(address, HttpCompletionOption.ResponseHeadersRead);
            if (!answer.IsSuccessStatusCode)
                throw new InputFault(await answer.Content.ReadAsStringAsync());
            var head = watch.Elapsed;
            await using var body = await answer.Content.ReadAsStreamAsync();
            var bytes = await CountAsync(body);
            Console.WriteLine(
                FormattableString.Invariant(
                    $"over HTTP, the {time} time: {bytes / 1e6:0} MB, first byte after {head.TotalSeconds:0.0} s, all after {watch.Elapsed.TotalSeconds:0.0} s, working set of the server at most {before / 1e6:0} MB before and {server.PeakMemory / 1e6:0} MB since its start"
                )
            );
        }
    }

    private static async Task<long> CountAsync(Stream body)
    {
        var buffer = new byte[1 << 16];
        long total = 0;
        while (await body.ReadAsync(buffer) is > 0 and var read)
            total += read;
        return total;
    }
}

using System.Diagnostics;
using System.IO.Pipes;
using System.Net;
using System.Net.Sockets;

namespace ShopFloor.Benchmarks.Circuits;

/// <summary>What the app holds in memory.</summary>
/// <param name="Heap">Bytes of the managed heap after a full collection.</param>
/// <param name="WorkingSet">Bytes of the working set.</param>
internal readonly record struct AppMemory(long Heap, long WorkingSet);

/// <summary>The built app as a process of its own with the demo workshop in a folder of its own; ended and removed on disposal.</summary>
internal sealed class AppUnderTest : IDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(2);
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("shopfloor-circuits-");
    private readonly string pipe = "shopfloor-" + Guid.NewGuid().ToString("N");
    private readonly Process process;

    private AppUnderTest(string dll, string? log)
    {
        Site = new Uri(string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{FreePort()}/"));
        var start = new ProcessStartInfo("dotnet", [dll])
        {
            WorkingDirectory = Path.GetDirectoryName(dll),
            RedirectStandardOutput = true,
            UseShellExecute = false,
        };
        start.Environment["Kestrel__Endpoints__Http__Url"] = Site.ToString().TrimEnd('/');
        start.Environment["ShopFloor__DataFolder"] = folder.FullName;
        start.Environment["ShopFloor__Demo"] = "true";
        start.Environment["ShopFloor__SignInsPerMinute"] = "10000";
        start.Environment["ASPNETCORE_ENVIRONMENT"] = "Development";
        start.Environment["DOTNET_STARTUP_HOOKS"] = typeof(AppUnderTest).Assembly.Location;
        start.Environment[StartupHook.PipeName] = pipe;
        process = Process.Start(start)!;
        process.OutputDataReceived += (_, line) =>
        {
            if (log is not null)
                File.AppendAllText(log, line.Data + "\n");
        };
        process.BeginOutputReadLine();
    }

    /// <summary>Where it answers, with a slash at the end.</summary>
    public Uri Site { get; }

    /// <summary>Processor time used since the start.</summary>
    public TimeSpan Processor
    {
        get
        {
            process.Refresh();
            return process.TotalProcessorTime;
        }
    }

    /// <summary>Starts the app whose assembly is named and waits until it is ready.</summary>
    /// <param name="dll">The built app.</param>
    /// <param name="log">Where its log goes; null: nowhere.</param>
    public static async Task<AppUnderTest> StartAsync(string dll, string? log = null)
    {
        if (!File.Exists(dll))
            throw new InputFault($"'{dll}' is not there: build the app first.");
        var app = new AppUnderTest(Path.GetFullPath(dll), log);
        using var http = new HttpClient { BaseAddress = app.Site };
        var started = Stopwatch.GetTimestamp();
        while (!await IsReadyAsync(http))
        {
            if (app.process.HasExited || Stopwatch.GetElapsedTime(started) > Patience)
            {
                app.Dispose();
                throw new InputFault("The app did not become ready.");
            }
            await Task.Delay(250);
        }
        return app;
    }

    /// <summary>Collects in the app and asks what is left.</summary>
    public async Task<AppMemory> MemoryAsync()
    {
        await using var client = new NamedPipeClientStream(".", pipe, PipeDirection.In);
        await client.ConnectAsync(Patience, CancellationToken.None);
        using var reader = new StreamReader(client);
        var parts = (await reader.ReadToEndAsync()).Split(' ');
        return new AppMemory(long.Parse(parts[0], CultureInfo.InvariantCulture), long.Parse(parts[1], CultureInfo.InvariantCulture));
    }

    public void Dispose()
    {
        if (!process.HasExited)
        {
            process.Kill();
            process.WaitForExit();
        }
        process.Dispose();
        folder.Delete(recursive: true);
    }

    private static async Task<bool> IsReadyAsync(HttpClient http)
    {
        try
        {
            using var answer = await http.GetAsync("health/ready");
            return answer.IsSuccessStatusCode;
        }
        catch (HttpRequestException)
        {
            return false;
        }
    }

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}

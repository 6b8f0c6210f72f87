using System.Diagnostics;
using System.Net;
using System.Net.Sockets;

namespace ShopFloor.Benchmarks.Circuits;

/// <summary>The program in a process of its own with a folder of its own, to be started, killed and started again.</summary>
internal sealed class ServerProcess : IDisposable
{
    private readonly string dll;
    private readonly bool isOwnFolder;
    private Process? process;
    private long? killedAt;

    /// <param name="dll">The built program; null: the one beside this program.</param>
    /// <param name="folder">Its data folder; null: a new one that is deleted afterwards.</param>
    public ServerProcess(string? dll, string? folder = null)
    {
        this.dll = dll ?? Path.Combine(AppContext.BaseDirectory, "ShopFloor.Web.dll");
        isOwnFolder = folder is null;
        Folder = folder ?? Directory.CreateTempSubdirectory("shopfloor-load-").FullName;
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        Address = new Uri(FormattableString.Invariant($"http://127.0.0.1:{((IPEndPoint)listener.LocalEndpoint).Port}/"));
    }

    public string Folder { get; }

    /// <summary>What its environment gets besides.</summary>
    public Dictionary<string, string> More { get; } = new(StringComparer.Ordinal);

    /// <summary>Processor time it has used since its start.</summary>
    public TimeSpan Processor
    {
        get
        {
            process!.Refresh();
            return process.TotalProcessorTime;
        }
    }

    /// <summary>The most bytes that it has held in memory since its start.</summary>
    public long PeakMemory
    {
        get
        {
            process!.Refresh();
            return process.PeakWorkingSet64;
        }
    }

    public Uri Address { get; }

    /// <summary>Starts it and waits until it answers; the answer is how long that took, counted from the kill when it was killed before.</summary>
    public async Task<TimeSpan> StartAsync()
    {
        var began = killedAt ?? Stopwatch.GetTimestamp();
        var info = new ProcessStartInfo("dotnet", [dll])
        {
            WorkingDirectory = Path.GetDirectoryName(dll)!,
            RedirectStandardOutput = true,
            UseShellExecute = false,
        };
        info.Environment["ASPNETCORE_ENVIRONMENT"] = "Development";
        info.Environment["ASPNETCORE_URLS"] = Address.ToString();
        info.Environment["ShopFloor__DataFolder"] = Folder;
        info.Environment["ShopFloor__SignInsPerMinute"] = "100000";
        info.Environment["ShopFloor__LinkCallsPerMinute"] = "100000";
        info.Environment["ShopFloor__PlanRounds"] = "12";
        foreach (var (name, value) in More)
            info.Environment[name] = value;
        process = Process.Start(info)!;
        process.BeginOutputReadLine();
        using var http = new HttpClient { Timeout = TimeSpan.FromSeconds(5) };
        while (!await AnswersAsync(http))
        {
            if (process.HasExited)
                throw new InputFault($"The server ended with {process.ExitCode} at its start.");
            await Task.Delay(50);
        }
        return Stopwatch.GetElapsedTime(began);
    }

    /// <summary>Kills it at once, as kill -9 does.</summary>
    public async Task KillAsync()
    {
        killedAt = Stopwatch.GetTimestamp();
        process!.Kill();
        await process.WaitForExitAsync();
        process.Dispose();
        process = null;
    }

    public void Dispose()
    {
        if (process is { HasExited: false })
            process.Kill();
        process?.Dispose();
        if (isOwnFolder && Directory.Exists(Folder))
            Directory.Delete(Folder, recursive: true);
    }

    private async Task<bool> AnswersAsync(HttpClient http)
    {
        try
        {
            using var answer = await http.GetAsync(new Uri(Address, "health/ready"));
            return answer.IsSuccessStatusCode;
        }
        catch (HttpRequestException)
        {
            return false;
        }
        catch (TaskCanceledException)
        {
            return false;
        }
    }
}

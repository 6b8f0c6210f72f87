using System.IO.Pipes;

namespace ShopFloor.Benchmarks.Circuits;

/// <summary>What the server holds in memory.</summary>
/// <param name="Heap">Bytes of the managed heap after a full collection.</param>
/// <param name="WorkingSet">Bytes of the working set.</param>
internal readonly record struct HeldMemory(long Heap, long WorkingSet);

/// <summary>Asks a server process for its memory through <see cref="StartupHook"/>, so that the program itself needs no door for measuring.</summary>
internal sealed class HeapProbe
{
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(2);
    private readonly string pipe = "shopfloor-" + Guid.NewGuid().ToString("N");

    /// <summary>Before the server is started: makes the runtime load the hook into it.</summary>
    public HeapProbe(ServerProcess server)
    {
        server.More["DOTNET_STARTUP_HOOKS"] = typeof(StartupHook).Assembly.Location;
        server.More[StartupHook.PipeName] = pipe;
    }

    /// <summary>Collects in the server and tells what is left.</summary>
    public async Task<HeldMemory> AskAsync()
    {
        await using var client = new NamedPipeClientStream(".", pipe, PipeDirection.In);
        await client.ConnectAsync(Patience, CancellationToken.None);
        using var reader = new StreamReader(client);
        var parts = (await reader.ReadToEndAsync()).Split(' ');
        return new HeldMemory(long.Parse(parts[0], CultureInfo.InvariantCulture), long.Parse(parts[1], CultureInfo.InvariantCulture));
    }
}

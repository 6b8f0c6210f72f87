using System.Diagnostics.CodeAnalysis;
using System.IO.Pipes;

/// <summary>
/// Loaded by the runtime into the server under test (DOTNET_STARTUP_HOOKS), so that the program itself needs no door for measuring: answers each
/// connection to a pipe with the bytes of the managed heap after a full collection and of the working set.
/// </summary>
[SuppressMessage("Design", "MA0047:Declare types in namespaces", Justification = "The runtime looks for this name without a namespace.")]
internal static class StartupHook
{
    /// <summary>Environment variable with the pipe's name; without it the hook does nothing.</summary>
    public const string PipeName = "SHOPFLOOR_BENCH_PIPE";

    /// <summary>Called by the runtime before the app's own start.</summary>
    public static void Initialize()
    {
        if (Environment.GetEnvironmentVariable(PipeName) is { Length: > 0 } name)
            new Thread(() => Answer(name)) { IsBackground = true }.Start();
    }

    private static void Answer(string name)
    {
        while (true)
        {
            using var pipe = new NamedPipeServerStream(name, PipeDirection.Out);
            pipe.WaitForConnection();
            GC.Collect();
            GC.WaitForPendingFinalizers();
            GC.Collect();
            using var writer = new StreamWriter(pipe);
            writer.Write(
                string.Create(CultureInfo.InvariantCulture, $"{GC.GetTotalMemory(forceFullCollection: true)} {Environment.WorkingSet}")
            );
        }
    }
}

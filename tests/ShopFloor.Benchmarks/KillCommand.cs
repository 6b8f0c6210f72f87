using ShopFloor.Benchmarks.Circuits;

namespace ShopFloor.Benchmarks;

/// <summary>Kills the server under load for many rounds; exit code 1 when anything is wrong.</summary>
internal static class KillCommand
{
    public static int Run(Arguments arguments)
    {
        using var server = new ServerProcess(arguments.TryText("server"));
        var (rounds, people) = ((int)arguments.Number("rounds", 200), (int)arguments.Number("people", 4));
        var outcome = KillRounds
            .RunAsync(server, rounds, people, (int)arguments.Number("seed", 1), Console.WriteLine)
            .GetAwaiter()
            .GetResult();
        Console.WriteLine(outcome);
        return outcome.IsSound ? 0 : 1;
    }
}

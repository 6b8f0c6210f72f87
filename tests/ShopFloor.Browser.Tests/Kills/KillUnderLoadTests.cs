using ShopFloor.Benchmarks.Circuits;
using Xunit.Abstractions;

namespace ShopFloor.Browser.Tests.Kills;

/// <summary>
/// The server is killed while people tap: what was confirmed is there, nothing is there twice, and every journal replays. The short form of
/// the command <c>kill</c>.
/// </summary>
public sealed class KillUnderLoadTests(ITestOutputHelper output)
{
    [Fact]
    public async Task Kill_AtRandomMomentsUnderLoad_LosesAndDoublesNoConfirmedMove()
    {
        using var server = new ServerProcess(null);
        var outcome = await KillRounds.RunAsync(server, rounds: 2, people: 3, seed: 7, output.WriteLine);
        output.WriteLine(outcome.ToString());
        Assert.True(outcome.IsSound, outcome.ToString());
        Assert.InRange(outcome.Confirmed, 1, int.MaxValue);
    }
}

using System.Runtime.InteropServices;
using ShopFloor.Web.Background.Plans;

namespace ShopFloor.Web.Tests.Plans;

/// <summary>The planner never takes the screens' turn.</summary>
public sealed class PlannerThreadTests
{
    [Fact]
    public async Task Run_OnLinux_StepsBackBehindTheOthersAndAloneDoesSo()
    {
        if (!OperatingSystem.IsLinux())
            return;
        var before = GetPriority(0, 0);
        Assert.Equal(10, await PlannerThread.RunAsync(() => GetPriority(0, 0)));
        Assert.Equal(before, await Task.Run(() => GetPriority(0, 0)));
    }

    /// <summary>On Linux a thread stands where the one stands that begins it: whatever hears of the planner may begin one for the screens.</summary>
    [Fact]
    public async Task Run_WordsOfTheWork_AreHeardInTurnByAThreadThatDidNotStepBack()
    {
        var heard = new List<(int Word, int At)>();
        var answer = await PlannerThread.RunAsync<string, int>(
            tell =>
            {
                tell(1);
                tell(2);
                return "made";
            },
            word => heard.Add((word, OperatingSystem.IsLinux() ? GetPriority(0, 0) : 0))
        );
        Assert.Equal("made", answer);
        Assert.Equal([1, 2], heard.Select(h => h.Word));
        Assert.All(heard, h => Assert.NotEqual(10, h.At));
        var fault = await Assert.ThrowsAsync<InvalidOperationException>(() =>
            PlannerThread.RunAsync<string, int>(_ => throw new InvalidOperationException("no plan"), _ => { })
        );
        Assert.Equal("no plan", fault.Message);
    }

    [DllImport("libc", EntryPoint = "getpriority")]
    private static extern int GetPriority(int of, int which);
}

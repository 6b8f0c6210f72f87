using System.Runtime.InteropServices;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Tests.Architecture;

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

    /// <summary>One chain is planned on the caller's thread alone, which is the one that stepped back (`SideBySideTests`); so nothing else in the
    /// planner may begin threads.</summary>
    [Fact]
    public void Planning_Sources_BeginThreadsInOnePlaceAlone()
    {
        string[] begin = ["Parallel.", "Task.Run", "new Thread(", "ThreadPool.", "AsParallel("];
        var found =
            from file in Tree.Files("src/ShopFloor.Planning", ".cs")
            where Tree.Lines(file).Any(line => begin.Any(word => line.Contains(word, StringComparison.Ordinal)))
            select Path.GetFileName(file);
        Assert.Equal(["SideBySide.cs"], found);
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

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

    [DllImport("libc", EntryPoint = "getpriority")]
    private static extern int GetPriority(int of, int which);
}

using System.Runtime.InteropServices;

namespace ShopFloor.Web.Background.Plans;

/// <summary>Planning gets a thread of its own with low priority, so that it never takes the screens' turn.</summary>
public static class PlannerThread
{
    // Of 19 steps back; the screens keep the step of the program.
    private const int StepsBack = 10;
    private const int OneThread = 0;
    private const int Own = 0;

    /// <summary>Runs the work there.</summary>
    public static Task<T> RunAsync<T>(Func<T> work)
    {
        var answer = new TaskCompletionSource<T>(TaskCreationOptions.RunContinuationsAsynchronously);
        var thread = new Thread(() =>
        {
            StepBack();
            // The fault belongs to whoever waits for the answer.
            try
            {
                answer.SetResult(work());
            }
            catch (Exception fault)
            {
                answer.SetException(fault);
            }
        })
        {
            IsBackground = true,
            Priority = ThreadPriority.BelowNormal,
            Name = "planner",
        };
        thread.Start();
        return answer.Task;
    }

    // .NET leaves the priority of threads alone on Linux. Where the system refuses, the plan is made all the same.
    private static void StepBack()
    {
        if (OperatingSystem.IsLinux())
            _ = SetPriority(OneThread, Own, StepsBack);
    }

    [DllImport("libc", EntryPoint = "setpriority")]
    private static extern int SetPriority(int of, int which, int steps);
}

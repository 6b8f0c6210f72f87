using System.Collections.Concurrent;
using System.Runtime.ExceptionServices;
using System.Runtime.InteropServices;

namespace ShopFloor.Web.Background.Plans;

/// <summary>
/// Planning gets a thread of its own with low priority, so that it never takes the screens' turn. On Linux a thread that is begun by one that
/// stepped back stands back too, also one of the pool that serves screens. So the thread that plans begins none and tells nobody: it only
/// works, and a second one beside it, which did not step back, hands on what it says.
/// </summary>
public static class PlannerThread
{
    // Of 19 steps back; the screens keep the step of the program.
    private const int StepsBack = 10;
    private const int OneThread = 0;
    private const int Own = 0;

    /// <summary>Runs the work there.</summary>
    public static Task<T> RunAsync<T>(Func<T> work) => RunAsync<T, bool>(_ => work(), _ => { });

    /// <summary>Runs work there that says how far it is.</summary>
    /// <param name="work">The work; what it is given takes its words and returns at once.</param>
    /// <param name="told">Hears them one after the other, from another thread.</param>
    public static Task<T> RunAsync<T, TWord>(Func<Action<TWord>, T> work, Action<TWord> told)
    {
        var answer = new TaskCompletionSource<T>(TaskCreationOptions.RunContinuationsAsynchronously);
        Start("planner's words", () => Answer(answer, () => SteppedBack(work, told)));
        return answer.Task;
    }

    // The fault belongs to whoever waits for the answer.
    private static void Answer<T>(TaskCompletionSource<T> answer, Func<T> made)
    {
        try
        {
            answer.SetResult(made());
        }
        catch (Exception fault)
        {
            answer.SetException(fault);
        }
    }

    private static T SteppedBack<T, TWord>(Func<Action<TWord>, T> work, Action<TWord> told)
    {
        using var words = new BlockingCollection<TWord>();
        var (made, fault) = (default(T)!, (ExceptionDispatchInfo?)null);
        var planner = Start(
            "planner",
            () =>
            {
                StepBack();
                try
                {
                    made = work(words.Add);
                }
                catch (Exception thrown)
                {
                    fault = ExceptionDispatchInfo.Capture(thrown);
                }
                words.CompleteAdding();
            }
        );
        foreach (var word in words.GetConsumingEnumerable())
            told(word);
        planner.Join();
        fault?.Throw();
        return made;
    }

    private static Thread Start(string name, ThreadStart work)
    {
        var thread = new Thread(work) { IsBackground = true, Name = name };
        thread.Start();
        return thread;
    }

    // .NET leaves the priority of threads alone on Linux. Where the system refuses, the plan is made all the same.
    private static void StepBack()
    {
        Thread.CurrentThread.Priority = ThreadPriority.BelowNormal;
        if (OperatingSystem.IsLinux())
            _ = SetPriority(OneThread, Own, StepsBack);
    }

    [DllImport("libc", EntryPoint = "setpriority")]
    private static extern int SetPriority(int of, int which, int steps);
}

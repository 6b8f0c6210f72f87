namespace ShopFloor.Web.Background.Plans;

/// <summary>Planning gets a thread of its own with low priority, so that it never takes the screens' turn.</summary>
internal static class PlannerThread
{
    /// <summary>Runs the work there.</summary>
    public static Task<T> RunAsync<T>(Func<T> work)
    {
        var answer = new TaskCompletionSource<T>(TaskCreationOptions.RunContinuationsAsynchronously);
        var thread = new Thread(() =>
        {
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
}

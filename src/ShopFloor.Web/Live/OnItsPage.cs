namespace ShopFloor.Web.Live;

/// <summary>
/// Work that a timer, a subscription or another circuit begins for a page. It has no caller that would see how it ends, so its fault is
/// given to the page.
/// </summary>
public static class OnItsPage
{
    /// <summary>Does the work on the page's circuit.</summary>
    /// <param name="invoke">The component's own <c>InvokeAsync</c>.</param>
    /// <param name="work">What is to be done.</param>
    /// <param name="fail">The component's own <c>DispatchExceptionAsync</c>.</param>
    public static async Task RunAsync(Func<Func<Task>, Task> invoke, Func<Task> work, Func<Exception, Task> fail)
    {
        try
        {
            await invoke(work);
        }
        // The circuit went away in the meantime: there is nobody left to show it to.
        catch (ObjectDisposedException) { }
        // A fault outside an event of the page goes to the page's error boundary, as if the page had thrown it itself.
        catch (Exception e)
        {
            await fail(e);
        }
    }
}

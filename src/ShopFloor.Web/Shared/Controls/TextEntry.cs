using Microsoft.AspNetCore.Components;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Shared.Controls;

/// <summary>
/// An entry of typed text. It reports when the field is left; with <see cref="Live"/> also shortly after the last key,
/// so that drafts and prices follow without a round of work per key.
/// </summary>
public abstract class TextEntry : Entry, IDisposable
{
    private static readonly TimeSpan Pause = TimeSpan.FromMilliseconds(400);
    private ITimer? timer;
    private string? typed;

    /// <summary>The text as typed, always kept, also when it cannot be read.</summary>
    [Parameter]
    public string? Value { get; set; }

    [Parameter]
    public EventCallback<string?> ValueChanged { get; set; }

    /// <summary>Report 0.4 s after the last key, not only when the field is left.</summary>
    [Parameter]
    public bool Live { get; set; }

    [Inject]
    private TimeProvider Time { get; set; } = null!;

    protected Task LeaveAsync(ChangeEventArgs e)
    {
        typed = (string?)e.Value;
        return ReportAsync();
    }

    protected void Type(ChangeEventArgs e)
    {
        typed = (string?)e.Value;
        if (!Live)
            return;
        timer ??= Time.CreateTimer(
            _ => _ = OnItsPage.RunAsync(InvokeAsync, ReportAsync, DispatchExceptionAsync),
            null,
            Timeout.InfiniteTimeSpan,
            Timeout.InfiniteTimeSpan
        );
        timer.Change(Pause, Timeout.InfiniteTimeSpan);
    }

    /// <summary>Called with each new text before it is reported.</summary>
    protected virtual Task TakeAsync(string? text) => Task.CompletedTask;

    /// <summary>False while the text cannot be read.</summary>
    protected virtual bool IsRead => true;

    private async Task ReportAsync()
    {
        timer?.Change(Timeout.InfiniteTimeSpan, Timeout.InfiniteTimeSpan);
        if (string.Equals(typed, Value, StringComparison.Ordinal))
            return;
        Value = typed;
        await ValueChanged.InvokeAsync(typed);
        await TakeAsync(typed);
        if (IsRead)
            Corrected();
    }

    public void Dispose()
    {
        timer?.Dispose();
        GC.SuppressFinalize(this);
    }
}

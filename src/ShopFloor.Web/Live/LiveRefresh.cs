using Microsoft.AspNetCore.Components;

namespace ShopFloor.Web.Live;

/// <summary>
/// Put beside the markup it keeps fresh: calls <see cref="OnChange"/> after each saved change of the topics. Draws nothing.
/// It does nothing while the page is only being prerendered.
/// </summary>
public sealed class LiveRefresh : ComponentBase, IDisposable
{
    private Refresher? refresher;
    private (CultureInfo Formats, CultureInfo Words) language;

    /// <summary>What the page shows.</summary>
    [Parameter, EditorRequired]
    public IReadOnlyCollection<Topic> Topics { get; set; } = [];

    /// <summary>Reads again and so renders again.</summary>
    [Parameter, EditorRequired]
    public EventCallback OnChange { get; set; }

    /// <summary>The longest a missed change stays unseen.</summary>
    [Parameter]
    public TimeSpan PollEvery { get; set; } = TimeSpan.FromSeconds(15);

    [Inject]
    private Notifier Notifier { get; set; } = null!;

    [Inject]
    private TimeProvider Time { get; set; } = null!;

    protected override void OnInitialized() => language = (CultureInfo.CurrentCulture, CultureInfo.CurrentUICulture);

    protected override void OnAfterRender(bool firstRender)
    {
        if (firstRender)
            refresher = new Refresher(Notifier, Time, Topics, PollEvery, ReloadAsync);
    }

    public void Dispose() => refresher?.Dispose();

    private async Task ReloadAsync()
    {
        // Whoever tells the news has others to tell: the reload goes its own way.
        await Task.Yield();
        // The news came on the thread of somebody who may speak another language, or none.
        (CultureInfo.CurrentCulture, CultureInfo.CurrentUICulture) = language;
        await OnItsPage.RunAsync(InvokeAsync, OnChange.InvokeAsync, DispatchExceptionAsync);
    }
}

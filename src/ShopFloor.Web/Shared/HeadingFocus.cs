using Microsoft.AspNetCore.Components;
using Microsoft.JSInterop;
using RouteData = Microsoft.AspNetCore.Components.RouteData;

namespace ShopFloor.Web.Shared;

/// <summary>Takes the keyboard to the heading of a page that was gone to, as the framework's own does, so that a screen reader says where one is.
/// On the page a circuit begins with it leaves alone a field that somebody already types in: a page is read before its circuit listens.</summary>
public sealed class HeadingFocus(IJSRuntime script) : ComponentBase
{
    private Type? last;
    private bool isNew;

    /// <summary>The page that is shown.</summary>
    [Parameter]
    [EditorRequired]
    public RouteData RouteData { get; set; } = null!;

    /// <inheritdoc />
    protected override void OnParametersSet()
    {
        // Within one page, such as from step to step, the page itself says where the keyboard goes.
        isNew |= last != RouteData.PageType;
        last = RouteData.PageType;
    }

    /// <inheritdoc />
    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (!isNew)
            return;
        isNew = false;
        await script.InvokeVoidAsync("focusHeading", firstRender);
    }
}

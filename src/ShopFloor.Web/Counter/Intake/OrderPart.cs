using Microsoft.AspNetCore.Components;
using ShopFloor.Web.Counter.Drafts;
using ShopFloor.Web.Counter.Entries;

namespace ShopFloor.Web.Counter.Intake;

/// <summary>A part of the order page: sees the order and what can be chosen, and draws itself anew only for its own events.</summary>
public abstract class OrderPart : ComponentBase
{
    [CascadingParameter]
    protected DraftKeeper Keeper { get; set; } = null!;

    [CascadingParameter]
    protected CounterChoices Choices { get; set; } = null!;

    protected OrderEntry Entry => Keeper.Entry;

    protected LineEntry Line => Keeper.Line;

    protected void Set(Func<LineEntry, LineEntry> change) => Keeper.ChangeLine(change);
}

/// <summary>A part that also follows what other parts change.</summary>
public abstract class FollowingPart : OrderPart, IDisposable
{
    protected override void OnInitialized() => Keeper.Changed += Follow;

    public void Dispose()
    {
        Keeper.Changed -= Follow;
        GC.SuppressFinalize(this);
    }

    private void Follow(object? sender, EventArgs e) => _ = InvokeAsync(StateHasChanged);
}

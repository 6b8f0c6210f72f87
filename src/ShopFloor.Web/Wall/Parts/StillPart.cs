using Microsoft.AspNetCore.Components;

namespace ShopFloor.Web.Wall.Parts;

/// <summary>A part of the Wall that is drawn again only when it is handed another object than the one it has drawn.</summary>
public abstract class StillPart : ComponentBase
{
    private object? drawn;

    /// <summary>What it shows.</summary>
    protected abstract object? Shows { get; }

    protected override bool ShouldRender() => !ReferenceEquals(drawn, Shows);

    protected override void OnAfterRender(bool firstRender) => drawn = Shows;
}

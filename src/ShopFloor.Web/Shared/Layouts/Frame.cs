using Microsoft.AspNetCore.Components;

namespace ShopFloor.Web.Shared.Layouts;

/// <summary>What the frames of all places share.</summary>
public abstract class Frame : LayoutComponentBase
{
    /// <summary>"static" on pages without a circuit; else "no" until the circuit listens, then "yes". Clicks before that are lost, so tests wait for it.</summary>
    protected string Interactive =>
        AssignedRenderMode is null && !RendererInfo.IsInteractive ? "static"
        : RendererInfo.IsInteractive ? "yes"
        : "no";
}

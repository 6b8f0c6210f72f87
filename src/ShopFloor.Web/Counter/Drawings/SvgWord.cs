using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Rendering;

namespace ShopFloor.Web.Counter.Drawings;

/// <summary>A word in a drawing; a component because Razor keeps the tag <c>text</c> for itself.</summary>
public sealed class SvgWord : ComponentBase
{
    /// <summary>Where it stands: left end or, with <see cref="Middle"/>, its middle.</summary>
    [Parameter, EditorRequired]
    public double X { get; set; }

    /// <summary>The line it stands on.</summary>
    [Parameter, EditorRequired]
    public double Y { get; set; }

    /// <summary>Size of the letters in units of the drawing.</summary>
    [Parameter, EditorRequired]
    public double Size { get; set; }

    [Parameter]
    public bool Middle { get; set; }

    /// <summary>Colour of the letters; null: the style sheet's.</summary>
    [Parameter]
    public string? Fill { get; set; }

    [Parameter]
    public string? Class { get; set; }

    [Parameter, EditorRequired]
    public string Text { get; set; } = "";

    protected override void BuildRenderTree(RenderTreeBuilder builder)
    {
        builder.OpenElement(0, "text");
        builder.AddAttribute(1, "x", Number(X));
        builder.AddAttribute(2, "y", Number(Y));
        builder.AddAttribute(3, "class", Class);
        builder.AddAttribute(4, "text-anchor", Middle ? "middle" : null);
        builder.AddAttribute(5, "style", Fill is null ? $"font-size:{Number(Size)}px" : $"font-size:{Number(Size)}px;fill:{Fill}");
        builder.AddContent(6, Text);
        builder.CloseElement();
    }

    private static string Number(double number) => number.ToString("0.###", CultureInfo.InvariantCulture);
}

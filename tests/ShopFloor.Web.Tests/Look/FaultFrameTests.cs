using Bunit;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Domain;
using ShopFloor.Web.Shared.Controls;

namespace ShopFloor.Web.Tests.Look;

/// <summary>What is wrong stands beside its field until it is right, and no longer.</summary>
public sealed class FaultFrameTests : IDisposable
{
    private static readonly IReadOnlyList<Refusal> Both =
    [
        new("missing", "Enter the width.", "width"),
        new("missing", "Enter a name.", "name"),
    ];
    private readonly BunitContext page = new();
    private string? width;

    public FaultFrameTests()
    {
        page.Services.AddLocalization();
        page.Services.AddSingleton(TimeProvider.System);
        page.JSInterop.Mode = JSRuntimeMode.Loose;
    }

    public void Dispose() => page.Dispose();

    [Fact]
    public void Fault_OfAFieldThatIsPutRight_GoesAndTheOtherStays()
    {
        var form = Form(null);
        form.Find("#width").Change("40");
        Assert.Equal(["Enter a name."], form.FindAll(".faults li").Select(l => l.TextContent.Trim()));
        Assert.Empty(form.FindAll("#width-fault"));
        Assert.Single(form.FindAll("#name-fault"));
    }

    [Fact]
    public void Fault_OfANumberThatStillCannotBeRead_Stays()
    {
        var form = Form(null);
        form.Find("#width").Change("forty");
        Assert.Single(form.FindAll("#width-fault"));
    }

    [Fact]
    public void Fault_WhereTheFormJudges_StaysUntilItsRulesAreKept()
    {
        var form = Form(() => width == "40" ? [Both[1]] : Both);
        form.Find("#width").Change("39");
        Assert.Single(form.FindAll("#width-fault"));
        form.Find("#width").Change("40");
        Assert.Empty(form.FindAll("#width-fault"));
    }

    [Fact]
    public void Fault_ToldOnceMore_ComesBack()
    {
        var form = Form(null);
        form.Find("#width").Change("40");
        form.Render(p => p.Add(f => f.Faults, [.. Both]));
        Assert.Single(form.FindAll("#width-fault"));
    }

    private IRenderedComponent<FaultFrame> Form(Func<IReadOnlyList<Refusal>>? judge) =>
        page.Render<FaultFrame>(p =>
            p.Add(f => f.Faults, Both)
                .Add(f => f.Judge, judge)
                .AddChildContent<NumberField<int>>(n =>
                    n.Add(f => f.Name, "width")
                        .Add(f => f.Label, "Width")
                        .Add(
                            f => f.Read,
                            text => int.TryParse(text, out var read) ? read : new Refusal("number", "Enter a number.", "width")
                        )
                        .Add(f => f.ValueChanged, EventCallback.Factory.Create<string?>(this, t => width = t))
                )
                .AddChildContent<TextField>(t => t.Add(f => f.Name, "name").Add(f => f.Label, "Name"))
        );
}

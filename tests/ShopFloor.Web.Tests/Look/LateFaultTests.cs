using Bunit;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Web;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Time.Testing;
using ShopFloor.Web.Shared.Controls;

namespace ShopFloor.Web.Tests.Look;

/// <summary>What fails when a clock, and no touch, begins it is shown as any other fault of the page.</summary>
public sealed class LateFaultTests : IAsyncLifetime
{
    private static readonly RenderFragment<Exception> Shown = fault => page => page.AddMarkupContent(0, $"<p>{fault.Message}</p>");
    private readonly BunitContext browser = new();
    private readonly FakeTimeProvider clock = new();

    public Task InitializeAsync()
    {
        browser.Services.AddLocalization();
        browser.Services.AddSingleton<TimeProvider>(clock);
        browser.JSInterop.Mode = JSRuntimeMode.Loose;
        return Task.CompletedTask;
    }

    public Task DisposeAsync() => browser.DisposeAsync().AsTask();

    [Fact]
    public async Task TextField_FaultAfterThePause_ReachesThePage()
    {
        var page = Within<TextField>(field =>
            field.Add(f => f.Name, "note").Add(f => f.Label, "Note").Add(f => f.Live, true).Add(f => f.ValueChanged, (string? _) => Break())
        );
        await page.Find("input").InputAsync(new ChangeEventArgs { Value = "late" });
        clock.Advance(TimeSpan.FromSeconds(1));
        page.WaitForAssertion(() => Assert.Equal("broken", page.Find("p").TextContent));
    }

    [Fact]
    public void UndoBar_FaultWhenTheTimeIsOver_ReachesThePage()
    {
        var page = Within<UndoBar>(bar => bar.Add(b => b.Text, "Done.").Add(b => b.OnOver, () => Break()));
        clock.Advance(TimeSpan.FromSeconds(11));
        page.WaitForAssertion(() => Assert.Equal("broken", page.Find("p").TextContent));
    }

    private IRenderedComponent<ErrorBoundary> Within<T>(Action<ComponentParameterCollectionBuilder<T>> fill)
        where T : IComponent => browser.Render<ErrorBoundary>(b => b.AddChildContent(fill).Add(e => e.ErrorContent, Shown));

    private static void Break() => throw new InvalidOperationException("broken");
}

using System.Text.Json;
using Bunit;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Web.Bench;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Parts;
using ShopFloor.Web.Shared;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>Taking back is a tap of its own, so that the line which told of the step tells of its undoing.</summary>
public sealed class LastMoveTests : IDisposable
{
    private readonly BunitContext page = new();

    public LastMoveTests()
    {
        page.Services.AddLocalization();
        page.Services.AddSingleton<Spoken>();
        page.Services.AddSingleton(TimeProvider.System);
    }

    public void Dispose() => page.Dispose();

    [Fact]
    public async Task Undo_Pressed_SendsTheCommandAndTheBarGoes()
    {
        var command = Guid.CreateVersion7();
        var last = page.Render<LastMove>(p => p.Add(l => l.Done, (command, new Moved("S-1 is finished: 1 piece.", []))));
        var button = last.Find("undo-bar button");
        var tap = JsonSerializer.Deserialize<Tap>(button.GetAttribute("data-move")!, JsonForms.Default)!;
        Assert.Equal(("undo", command), (tap.Move, tap.Undo));
        await button.ClickAsync();
        Assert.Empty(last.FindAll("undo-bar"));
    }

    [Fact]
    public void Bar_ItsTimeOver_LeavesTheWordsAndGoesWithTheNextThingSaid()
    {
        var clock = new Microsoft.Extensions.Time.Testing.FakeTimeProvider();
        page.Services.AddSingleton<TimeProvider>(clock);
        var last = page.Render<LastMove>(p => p.Add(l => l.Done, (Guid.CreateVersion7(), new Moved("S-1 is finished: 1 piece.", []))));
        // The scan line says it to the ear already.
        Assert.Empty(last.FindAll("[role=status]"));
        Assert.Empty(last.FindAll(".did"));
        clock.Advance(TimeSpan.FromSeconds(11));
        last.WaitForAssertion(() => Assert.Equal("S-1 is finished: 1 piece.", last.Find(".did").TextContent));
        Assert.Empty(last.FindAll("undo-bar"));
        last.Render(p => p.Add(l => l.Done, null));
        Assert.Empty(last.FindAll(".did"));
    }
}

using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Browser.Tests.Harness;
using ShopFloor.Data;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Browser.Tests.Bench;

/// <summary>How the Bench looks and can be tapped, at the sizes of the devices it is made for.</summary>
[Collection(OnStage.Name)]
public sealed class BenchPagesTests(Stage stage)
{
    private static readonly Screen Tall = new("tablet-tall", 820, 1180, true);

    public static TheoryData<string, bool> Devices { get; } =
        new()
        {
            { "phone", false },
            { "phone", true },
            { "tablet", false },
            { "tablet", true },
        };

    [Theory]
    [MemberData(nameof(Devices))]
    public async Task Pages_EveryKindOfSheet_AreAccessibleAndHaveLargeTargets(string device, bool dark)
    {
        await using var visitor = await stage.VisitAsync(device == "phone" ? Screen.Phone : Tall, "bench", dark);
        foreach (var (name, path) in await PathsAsync())
        {
            await visitor.GoAsync(path);
            await visitor.ShootAsync($"bench-{name}");
            Assert.Empty(await visitor.AxeAsync());
            Assert.DoesNotContain(await visitor.SmallTargetsAsync(96), t => t.Contains("bench-size", StringComparison.Ordinal));
            Assert.Empty(await visitor.SmallTargetsAsync(44));
        }
        Assert.Empty(visitor.Complaints);
    }

    [Theory]
    [InlineData(390)]
    [InlineData(320)]
    public async Task Menu_InTheLanguageWithTheLongestWords_StandsInOneRowOnAPhone(int width)
    {
        await using var visitor = await stage.VisitAsync(new Screen($"phone-{width}", width, 700, true), "bench");
        await visitor.GoAsync("/counter/language/de-DE?to=/bench");
        // The languages have a row of their own.
        var places = visitor.Page.Locator(".bench > header nav").First.Locator("a");
        Assert.Equal("Scannen", (await places.First.InnerTextAsync()).Trim());
        Assert.Equal(4, await places.CountAsync());
        var tops = await places.EvaluateAllAsync<double[]>("all => all.map(a => a.getBoundingClientRect().top)");
        Assert.Single(tops.Distinct());
        Assert.Equal(0, await visitor.OverflowAsync());
    }

    private async Task<IReadOnlyList<(string Name, string Path)>> PathsAsync()
    {
        await using var context = await stage.App.Services.GetRequiredService<IDbContextFactory<ShopContext>>().CreateDbContextAsync();
        var pieces = await context.Pieces.AsNoTracking().ToListAsync();
        var load = await context.Batches.Where(b => b.State == BatchState.Running).Select(b => b.Code).FirstAsync();
        var can = await context.Cans.Select(c => c.Code).FirstAsync();
        string At(StepKind kind) =>
            pieces.First(p => p.State is PieceState.InWork or PieceState.CheckedGood && p.NextAttended?.Kind == kind).Code;
        return
        [
            ("home", "/bench"),
            ("press", $"/b/{At(StepKind.Press)}"),
            (
                "tray",
                $"/b/{pieces.First(p => p.Tray is not null && p.NextAttended is { State: not WorkState.Running } && p.State == PieceState.InWork).Tray}"
            ),
            ("held", $"/b/{pieces.First(p => p.State == PieceState.Held).Code}"),
            ("load", $"/b/{load}"),
            ("can", $"/b/{can}"),
            ("unknown", "/b/4KT9XM"),
        ];
    }
}

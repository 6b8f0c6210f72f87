using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench.Reading;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>What hands usually take is measured of each coating, also of one that is sprayed seldom.</summary>
public sealed class UsualMinutesTests
{
    [Fact]
    public async Task Read_CoatingThatIsSprayedSeldom_IsMeasuredFromFurtherBack()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 1);
        await bench.WorkToAsync(StepKind.Spray);
        var mine = (await bench.PiecesAsync())[0];
        var step = mine.NextAttended!.Settings;
        for (var sprayed = 0; sprayed <= 400; sprayed += 12 * mine.Items.Count(i => i.Kind == StepKind.Spray))
            await FetchedAsync(bench, mine, await bench.BookAsync(12, false, Finish.WhiteGround, "al"));
        await SprayOthersAsync(bench, mine, step);

        var sheet = Assert.Single((await bench.Shop.Get<FindByCode>().ReadAsync(bench.Code)).Value.Pieces);
        Assert.True(sheet.Usual is { Value: { IsMeasured: true, Minutes: 7 } }, sheet.Usual?.ToString());
    }

    // What is fetched takes no time from those that are booked after it.
    private static async Task FetchedAsync(BenchShop bench, Piece mine, string tray)
    {
        await using var context = await bench.Shop.ContextAsync();
        await context
            .Pieces.Where(p => p.Id != mine.Id && p.Tray == tray)
            .ExecuteUpdateAsync(p => p.SetProperty(x => x.State, PieceState.HandedOver));
    }

    /// <summary>All the newest in another coating, and a few long ago in this one.</summary>
    private static async Task SprayOthersAsync(BenchShop bench, Piece mine, RecipeStep step)
    {
        var now = bench.Shop.Clock.GetUtcNow();
        var other = step with { Coating = Enum.GetValues<CoatingKind>().First(c => c != step.Coating) };
        await using var context = await bench.Shop.ContextAsync();
        var others = context.WorkItems.Where(i => i.Piece != mine.Id && i.Kind == StepKind.Spray);
        Assert.True(await others.CountAsync() > 400);
        await others.ExecuteUpdateAsync(i =>
            i.SetProperty(x => x.Settings, other)
                .SetProperty(x => x.State, WorkState.Done)
                .SetProperty(x => x.StartedAt, now.AddMinutes(-9))
                .SetProperty(x => x.FinishedAt, now.AddMinutes(-1))
        );
        var few = (await bench.PiecesAsync()).Where(p => p.Id != mine.Id).Take(6).Select(p => p.Id).ToList();
        var number = mine.Items.First(i => i.Kind == StepKind.Spray).Number;
        for (var day = 0; day < few.Count; day++)
        {
            var (id, from) = (few[day], now.AddDays(-20 - day));
            await context
                .WorkItems.Where(i => i.Piece == id && i.Number == number)
                .ExecuteUpdateAsync(i =>
                    i.SetProperty(x => x.Settings, step)
                        .SetProperty(x => x.StartedAt, from)
                        .SetProperty(x => x.FinishedAt, from.AddMinutes(7))
                );
        }
    }
}

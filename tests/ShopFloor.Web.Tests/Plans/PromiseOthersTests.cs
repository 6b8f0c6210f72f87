using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Plans;

/// <summary>An order that is asked for far ahead is not refused for the sake of a piece that goes without anyway.</summary>
public sealed class PromiseOthersTests
{
    [Fact]
    public async Task Answer_FarAheadWhereAFirstPlanLeavesAnotherPieceOutAnyway_IsADay()
    {
        await using var shop = await ShopOrders.DemoAsync();
        // The plan that the answers come from has a place for everybody.
        var known = await ReadAsync(shop);
        var day = DayFromShop.Make(known);
        var plan = DayPlanner.First(day);
        Assert.Empty(plan.LeftOut);
        var code = await TooHotAsync(shop);
        var now = await ReadAsync(shop);
        Assert.Contains(DayPlanner.First(DayFromShop.Make(now)).LeftOut, l => l.Piece == code);

        var asked = await AskedAsync(shop, now, days: (day.HorizonS / 86_400) + 2);
        var promised = Assert.Single(new PromiseBase(now, Promises.Prepare(day, plan), 0, []).Answer([asked]));
        Assert.Empty(promised.LeftOut);
        Assert.True(promised.At > now.Now.AddSeconds(day.HorizonS));
    }

    private static async Task<ShopSnapshot> ReadAsync(TestShop shop)
    {
        await using var context = await shop.ContextAsync();
        return await ShopSnapshot.ReadPromisedAsync(context, shop.Clock.GetUtcNow(), CancellationToken.None);
    }

    private static async Task<AskedOrder> AskedAsync(TestShop shop, ShopSnapshot now, int days)
    {
        await using var context = await shop.ContextAsync();
        var facts = await ShopFacts.LoadAsync(context, shop.Clock.GetUtcNow(), default);
        var line = ShopOrders.Plates(1).Lines[0];
        var steps = JudgeLine.Of(line, facts, false, null).Steps;
        Assert.NotEmpty(steps);
        return new AskedOrder([new NewPieces(line.Piece, 1, steps, 0) { Later = new LaterPieces(0, now.Now.AddDays(days)) }], Rush: false);
    }

    private static async Task<string> TooHotAsync(TestShop shop)
    {
        await using var context = await shop.ContextAsync();
        var pieces = await context.Pieces.AsNoTracking().Where(p => p.State == PieceState.Received).OrderBy(p => p.Code).ToListAsync();
        var piece = pieces.First(p => p.Items.Any(i => i.Kind == StepKind.Cure));
        var cure = piece.Items.First(i => i.Kind == StepKind.Cure);
        var settings = cure.Settings with { Celsius = 390 };
        await context
            .WorkItems.Where(i => i.Piece == piece.Id && i.Number == cure.Number)
            .ExecuteUpdateAsync(i => i.SetProperty(x => x.Settings, settings));
        return piece.Code;
    }
}

using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pricing;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Yield;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Office.Prices;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office;

/// <summary>A material that is lost often makes no other dearer.</summary>
public sealed class MaterialLossTests
{
    private static readonly MeasuredLoss All = new(Finish.WhiteGround, 30, 60);
    private static readonly MeasuredLoss Aluminium = new(Finish.WhiteGround, 0, 40, "al");

    [Fact]
    public async Task Price_WithEnoughOfTheMaterial_CountsItsOwnLossElseThatOfTheFinish()
    {
        var byFinish = await PriceAsync(All);
        Assert.Equal(byFinish, await PriceAsync(All, Aluminium with { Pieces = 19 }));
        var own = await PriceAsync(All, Aluminium);
        Assert.Equal(await PriceAsync(Aluminium with { Material = "" }), own);
        Assert.True(own < byFinish);
    }

    [Fact]
    public async Task Panel_EachMaterial_IsToldWithTheRangeAndWhatPricesCountWith()
    {
        await using var shop = await ShopOrders.DemoAsync();
        await KeepAsync(shop, All, Aluminium, Aluminium with { Material = "slate", Pieces = 5 });
        var rows = (await shop.Get<MeasuredView>().LoadAsync()).Losses;
        Assert.Equal([null, "Aluminium, bare", "Slate"], rows.Select(r => r.Material));
        Assert.Equal([50m, 2.38m, null], rows.Select(r => r.Percent is { } p ? Math.Round(p, 2) : (decimal?)null));
        Assert.All(rows, r => Assert.True(r.Likely.Low < r.Likely.High));
    }

    private static async Task<decimal> PriceAsync(params MeasuredLoss[] losses)
    {
        await using var shop = await ShopOrders.DemoAsync();
        await KeepAsync(shop, losses);
        await using var context = await shop.ContextAsync();
        var facts = await ShopFacts.LoadAsync(context, shop.Clock.GetUtcNow(), default);
        var line = new LineInput
        {
            Quantity = 10,
            Finish = Finish.WhiteGround,
            Piece = new PieceDescription
            {
                Material = "al",
                Width = Length.FromMillimetres(100),
                Height = Length.FromMillimetres(60),
                Thickness = Length.FromMillimetres(1),
            },
        };
        return JudgeLine.Of(line, facts, false, null).Quote.Price!.Cost.Amount;
    }

    private static async Task KeepAsync(TestShop shop, params MeasuredLoss[] losses)
    {
        await using var context = await shop.ContextAsync();
        await context.Settings.Where(s => s.Key == SettingKeys.Measured).ExecuteDeleteAsync();
        var json = JsonSerializer.Serialize(new MeasuredShop { Losses = losses }, JsonForms.Default);
        context.Settings.Add(new DatedSetting(Guid.CreateVersion7(), SettingKeys.Measured, shop.Clock.GetUtcNow(), json, "night"));
        await context.SaveChangesAsync();
    }
}

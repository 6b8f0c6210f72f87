using Bunit;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Bench.Parts;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Shared;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>What stands where on the sheet of a step: on a phone nobody sees what lies below the buttons.</summary>
public sealed class StepSheetTests
{
    private const string Care = "No flame near it.";

    [Fact]
    public async Task Cautions_OfAStep_StandDirectlyAfterItsNumbers()
    {
        await using var shop = await BenchShop.OpenAsync(1);
        await using var page = PageOf(shop);
        var step = new StepCard { Word = "Clean", Settings = [new Setting("Time", "2 min")], Cautions = [Care] };
        var sheet = page.Render<StepSheet>(p => p.Add(s => s.Step, step).Add(s => s.Code, shop.Code));
        Assert.Equal("cautions", sheet.Find(".settings").NextElementSibling!.ClassName);
    }

    [Fact]
    public async Task Cautions_OfABatch_StandDirectlyAfterItsNumbers()
    {
        await using var shop = await BenchShop.OpenAsync(1);
        await using var page = PageOf(shop);
        var batch = new BatchSheet
        {
            Code = "L-1",
            Kind = BatchKind.OvenLoad,
            Settings = [new Setting("Time", "2 min")],
            Cautions = [Care],
        };
        var card = page.Render<BatchCard>(p => p.Add(c => c.Sheet, batch));
        Assert.Equal("cautions", card.Find(".settings").NextElementSibling!.ClassName);
    }

    private static BunitContext PageOf(BenchShop shop)
    {
        var page = new BunitContext();
        page.Services.AddLocalization();
        page.Services.AddSingleton<Spoken>();
        page.Services.AddSingleton<TimeProvider>(shop.Shop.Clock);
        page.Services.AddSingleton(shop.Shop.Get<StepReasons>());
        page.JSInterop.Mode = JSRuntimeMode.Loose;
        return page;
    }
}

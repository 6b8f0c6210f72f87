using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Film;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Calculators;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office;

/// <summary>The guided measurements set the workshop's own numbers.</summary>
public sealed class KeepMeasuredTests
{
    private static async Task<Measured> WorkedOutAsync(TestShop shop, string key)
    {
        var start = await shop.Get<CalculatorStartView>().LoadAsync();
        var form = new CalculatorForm(CalculatorList.For(start).Single(c => c.Key == key), start);
        return form.Work().Value.Measured!;
    }

    [Fact]
    public async Task Weighing_KeptForACoating_ReplacesItsNumbersAndIsWrittenDown()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var measured = Assert.IsType<MeasuredFilm>(await WorkedOutAsync(shop, "weighing"));
        await using var context = await shop.ContextAsync();
        var clear = await context.Coatings.AsNoTracking().FirstAsync(c => c.Kind == CoatingKind.Clear);

        var input = new KeepInput(clear.Id.Value, clear.Version, measured.Film, null);
        Assert.True((await shop.Get<KeepMeasured>().RunAsync(Asked.By(owner), input)).IsOk);

        var kept = (await context.Coatings.AsNoTracking().SingleAsync(c => c.Id == clear.Id)).Settings;
        Assert.Equal(measured.Film.VolumeSolidsPercent, (double)kept.VolumeSolidsPercent, 0.01);
        Assert.Equal(measured.Film.TransferEfficiencyPercent, (double)kept.TransferEfficiency * 100, 0.1);
        Assert.Equal(clear.Settings.CanMl, kept.CanMl);
        Assert.Equal(1, await context.Audit.CountAsync(a => a.What == "coating weighed" && a.Subject == clear.Code));

        var again = await shop.Get<KeepMeasured>().RunAsync(Asked.By(owner), input with { Film = new CalibratedFilm(20, 40, 15) });
        Assert.Equal("changed-meanwhile", Assert.Single(again.Refusals).Code);
    }

    [Fact]
    public async Task Readings_KeptForAnOven_AreItsHeatTransferFromThen()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var measured = Assert.IsType<MeasuredOven>(await WorkedOutAsync(shop, "heat-transfer"));
        var target = (await shop.Get<KeepTargetsView>().LoadAsync(measured))[0];

        var input = new KeepInput(target.Id, target.Version, null, measured.HeatTransfer);
        Assert.True((await shop.Get<KeepMeasured>().RunAsync(Asked.By(owner), input)).IsOk);

        await using var context = await shop.ContextAsync();
        var oven = await context.Stations.AsNoTracking().SingleAsync(s => s.Id == new Domain.StationId(target.Id));
        Assert.Equal(Math.Round(measured.HeatTransfer, 1), ((OvenSettings)oven.Settings).HeatTransfer);
    }

    [Fact]
    public async Task Keep_ByTheBench_IsRefused()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var bench = await shop.WorkerAsync(WorkerRole.Bench);
        var input = new KeepInput(Guid.CreateVersion7(), 0, new CalibratedFilm(20, 40, 15), null);
        Assert.False((await shop.Get<KeepMeasured>().RunAsync(Asked.By(bench), input)).IsOk);
    }
}

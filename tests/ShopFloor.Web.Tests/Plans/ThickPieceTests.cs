using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Stations;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Office.Stations;
using ShopFloor.Web.Tests.Support;
using StationKind = ShopFloor.Domain.Stations.StationKind;

namespace ShopFloor.Web.Tests.Plans;

/// <summary>A press takes pieces up to a thickness: one that is thicker is planned on another press, and on none where there is no other.</summary>
public sealed class ThickPieceTests
{
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Plan_OfAPieceThickerThanOnePress_UsesOnlyOneThatTakesIt(bool second)
    {
        await using var shop = await ShopOrders.DemoAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var thick = ShopOrders.Plates(1);
        thick = thick with
        {
            Lines = [thick.Lines[0] with { Piece = thick.Lines[0].Piece with { Thickness = Length.FromMillimetres(3) } }],
        };
        var booked = (await shop.Get<BookOrder>().RunAsync(Asked.By(owner), await shop.ShownAsync(thick))).Value;
        var stations = await shop.Get<StationListView>().LoadAsync();
        var (low, other) = (stations.First(s => s.Settings is PressSettings { Wraps: false }), "");
        await ThickestAsync(shop, owner, low.Code, 2);
        if (second)
        {
            other = (await shop.Get<AddStation>().RunAsync(Asked.By(owner), new NewStation(StationKind.Press, "Second press"))).Value;
            await ThickestAsync(shop, owner, other, 25);
        }

        await using var context = await shop.ContextAsync();
        var day = DayFromShop.Make(await ShopSnapshot.ReadPromisedAsync(context, shop.Clock.GetUtcNow(), default));
        var plan = DayPlanner.First(day);

        Assert.Equal(2_000, day.Stations.OfType<Press>().Single(p => p.Id == low.Code).ThickestUm);
        var pressed = plan.Tasks.Where(t => t.Kind == TaskKinds.Press).ToList();
        string? At(string code) =>
            pressed.Find(t => t.Batch is { } batch && plan.Batches.Single(b => b.Id == batch).Places.Any(p => p.Piece == code))?.Station;
        var code = Assert.Single(booked.Codes);
        Assert.Equal(second ? other : null, At(code));
        Assert.Equal(!second, plan.LeftOut.Any(l => l.Piece == code));
    }

    private static async Task ThickestAsync(TestShop shop, Guid owner, string code, decimal millimetres)
    {
        var row = (await shop.Get<StationListView>().LoadAsync()).Single(s => s.Code == code);
        var settings = (PressSettings)row.Settings with { Thickest = Length.FromMillimetres(millimetres) };
        var done = await shop.Get<ChangeStation>()
            .RunAsync(Asked.By(owner), new StationInput(row.Id, row.Version, row.Name, settings, null, true));
        Assert.True(done.IsOk, done.IsOk ? "" : done.Refusals[0].Text);
    }
}

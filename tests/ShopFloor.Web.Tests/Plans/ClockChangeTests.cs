using System.Text;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Demo;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Plans;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Plans;

/// <summary>A plan over the weekend on which summer time begins says the clock times of the days after it.</summary>
public sealed class ClockChangeTests
{
    [Fact]
    public async Task Load_PlanAcrossTheChangeOfTheClock_SaysTheTimesOfEachDay()
    {
        await using var shop = await TestShop.EmptyAsync();
        shop.Clock.SetUtcNow(new DateTimeOffset(2026, 3, 27, 13, 0, 0, TimeSpan.Zero));
        Assert.True(await shop.Get<DemoWorkshop>().RunAsync());
        await using var context = await shop.ContextAsync();
        var received = await context.Pieces.Where(p => p.State == PieceState.Received).OrderBy(p => p.Code).ToListAsync();
        var piece = received.First(p => p.Items.Any(i => i.Kind == Domain.Recipes.StepKind.Cure));
        var cure = piece.Items.First(i => i.Kind == Domain.Recipes.StepKind.Cure).Number;
        var monday = new DateTimeOffset(2026, 3, 30, 7, 0, 0, TimeSpan.Zero);
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        Assert.True(
            (await shop.Get<PinPiece>().RunAsync(Asked.By(owner), new PinInput(piece.Code, cure, PinKind.NotBefore, monday, null))).IsOk
        );
        var snapshot = await ShopSnapshot.ReadAsync(context, shop.Clock.GetUtcNow(), default);
        var day = DayFromShop.Make(snapshot);
        var bytes = DayWriter.Write(day);
        var plan = DayPlanner.First(day, Fingerprint.Sha256(bytes));
        var input = new PlanInput(
            snapshot.Now,
            snapshot.Journal,
            Encoding.UTF8.GetString(bytes),
            Encoding.UTF8.GetString(PlanWriter.Write(plan)),
            ""
        );
        Assert.True((await shop.Get<PublishPlan>().RunAsync(Asked.BySystem(), input)).IsOk);

        var timeline = (await shop.Get<TimelineView>().LoadAsync(0))!;

        DateTime Local(int second) => TimeZoneInfo.ConvertTime(snapshot.Now.AddSeconds(second), snapshot.Settings.Zone).DateTime;
        var after = plan.Tasks.Where(t => Local(t.StartS) > new DateTime(2026, 3, 29)).MinBy(t => t.StartS)!;
        Assert.Equal(Local(after.StartS), timeline.Clock(after.StartS));
        Assert.Equal(Local(0), timeline.Clock(0));
        var starts = plan
            .Tasks.Where(t => t.Kind == "tape")
            .Select(t => Local(t.StartS - snapshot.Settings.Profile.TransferDryMinutes * 60))
            .ToHashSet();
        Assert.All(timeline.Prints, p => Assert.Contains(p.By, starts));
        var ends = PlanEnds
            .Of(plan)
            .Values.Select(e => ShopClock.At(new DateTimeOffset(Local(e), TimeSpan.Zero), new DateTimeOffset(Local(0), TimeSpan.Zero)))
            .ToHashSet();
        Assert.All(
            timeline.Troubles.Where(t => t.Text.Contains("ready", StringComparison.Ordinal)),
            t => Assert.Contains(t.Text.Split("ready ")[1], ends)
        );
    }
}

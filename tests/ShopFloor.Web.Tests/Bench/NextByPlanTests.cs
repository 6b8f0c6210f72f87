using System.Text;
using System.Text.Json;
using Bunit;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using ShopFloor.Data;
using ShopFloor.Domain.Pieces;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.Parts;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;
using ShopFloor.Web.Shared;
using ShopFloor.Web.Wall.Reading;
using StepKind = ShopFloor.Domain.Recipes.StepKind;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>The page of a batch that is over leads on to the next one of the plan at its station.</summary>
public sealed class NextByPlanTests
{
    [Fact]
    public async Task Batch_Over_OffersTheNextOfThePlanByNameAndTimeOnceItsPiecesAreReady()
    {
        await using var bench = await BenchShop.OpenAsync(2);
        await bench.WorkToAsync(StepKind.Tape);
        var plan = await PublishAsync(bench);
        var session = plan.Plan.Batches.First(b => b.Kind == BatchKinds.Session);
        var start = plan.OfBatch[session.Id].OrderBy(t => t.StartS).First();
        await using var page = Page(bench);

        var early = Card(page, start.Station);
        Assert.Contains("not ready yet", early.WaitForElement(".notice").TextContent, StringComparison.Ordinal);
        Assert.Empty(early.FindAll("[data-move]"));
        Assert.DoesNotContain("Next by the plan", Card(page, "elsewhere").Markup, StringComparison.Ordinal);

        await bench.WorkToAsync(StepKind.Press);
        page.Services.GetRequiredService<Notifier>()
            .Tell([.. (await bench.PiecesAsync()).Select(p => new Change(Topic.Piece, p.Id.Value))]);
        var ready = Card(page, start.Station).WaitForElement("[data-move]");
        var clock = TimeZoneInfo.ConvertTime(plan.Instant(start.StartS), Zone).ToString("t", CultureInfo.CurrentCulture);
        Assert.Contains(PlannedName.Of(session.Id), ready.TextContent, StringComparison.Ordinal);
        Assert.Contains(clock, ready.TextContent, StringComparison.Ordinal);
        var sent = JsonSerializer.Deserialize<Tap>(ready.GetAttribute("data-move")!, JsonForms.Default)!;
        Assert.Equal(("build", session.Id, start.Station), (sent.Move, sent.Plan, sent.Station));
        Assert.Equal((await bench.PiecesAsync()).Select(p => p.Code).Order(), sent.Codes!.Order());
    }

    [Fact]
    public async Task Session_PutTogether_GoesByItsCodeOnTheWallAndByThePlansLetterOnItsPage()
    {
        await using var bench = await BenchShop.OpenAsync(2);
        await bench.WorkToAsync(StepKind.Tape);
        var plan = await PublishAsync(bench);
        await bench.WorkToAsync(StepKind.Press);
        var session = plan.Plan.Batches.First(b => b.Kind == BatchKinds.Session);
        var letter = PlannedName.Of(session.Id);
        Assert.Contains($"Press {letter}", await PressRowAsync(bench), StringComparison.Ordinal);

        var codes = (await bench.PiecesAsync()).Select(p => p.Code).ToList();
        var wish = new BatchWish(codes, null, null, session.Id, null);
        var built = BenchShop.Must(await bench.Shop.Get<BuildBatch>().RunAsync(bench.Ask(), wish)).Batch!;

        Assert.Contains($"Press {built}", await PressRowAsync(bench), StringComparison.Ordinal);
        Assert.DoesNotContain($"Press {letter}", await PressRowAsync(bench), StringComparison.Ordinal);
        var sheet = (await bench.Shop.Get<FindByCode>().ReadAsync(built)).Value.Batch!;
        Assert.Equal(letter, sheet.PlanLetter);
        await using var page = Page(bench);
        Assert.Contains($"in the plan: {letter}", page.Render<BatchCard>(p => p.Add(c => c.Sheet, sheet)).Markup, StringComparison.Ordinal);
        BenchShop.Must(await bench.Shop.Get<StartBatch>().RunAsync(bench.Ask(), new StartBatchWish(built, IsHot: true)));
        Assert.Null((await bench.Shop.Get<FindByCode>().ReadAsync(built)).Value.Batch!.PlanLetter);
    }

    [Fact]
    public async Task Proposal_OnTheFirstPage_GoesByTheNameOnTheWall()
    {
        await using var bench = await BenchShop.OpenAsync(2);
        await bench.WorkToAsync(StepKind.Press);
        await PublishAsync(bench);
        await using var page = Page(bench);
        var home = await new BenchHome(page.Services.GetRequiredService<SharedWork>()).ReadAsync();
        var list = page.Render<ProposalList>(p => p.Add(l => l.Proposed, home.Proposed).Add(l => l.Zone, home.Zone));
        Assert.Contains("Session A, Flat press: 2 of 2 ready", list.Find("[data-move]").TextContent, StringComparison.Ordinal);

        // At a broken press nothing is proposed, though the plan does not know it yet.
        await using (var context = await bench.Shop.ContextAsync())
        {
            (await context.Stations.SingleAsync(s => s.Name == "Flat press")).TakeDown(bench.Shop.Clock.GetUtcNow().AddHours(1));
            await context.SaveChangesAsync();
        }
        await using var later = Page(bench);
        Assert.Empty((await new BenchHome(later.Services.GetRequiredService<SharedWork>()).ReadAsync()).Proposed);
    }

    [Fact]
    public async Task Proposal_AnotherOvensLoadIsPutTogether_IsThereAllTheSame()
    {
        await using var bench = await BenchShop.OpenAsync(2, before: SecondOvenTests.AddOvenAsync);
        await bench.WorkToAsync(StepKind.Cure);
        var plan = await PublishAsync(bench);
        var load = plan.Plan.Batches.First(b => b.Kind == BatchKinds.Load);
        var there = plan.OfBatch[load.Id].First().Station;
        var other = await bench.BookAsync(1, own: true, Domain.Recipes.Finish.WhiteGround, "al");
        await bench.WorkToAsync(StepKind.Cure, other);
        var elsewhere = there == "oven-1" ? "oven-2" : "oven-1";
        var built = BenchShop.Must(await bench.Shop.Get<BuildBatch>().RunAsync(bench.Ask(), new BatchWish([other], elsewhere))).Batch!;
        await using (var page = Page(bench))
        {
            var home = await new BenchHome(page.Services.GetRequiredService<SharedWork>()).ReadAsync();
            Assert.Equal([there], home.Proposed.Where(b => b.Kind == BatchKind.OvenLoad).Select(b => b.Station));
        }

        // At its own oven it hides it, and so does one of the same pieces elsewhere.
        BenchShop.Must(await bench.Shop.Get<DropBatch>().RunAsync(bench.Ask(), built));
        var codes = (await bench.PiecesAsync()).Where(p => p.Code != other).Select(p => p.Code).ToList();
        foreach (var wish in new[] { new BatchWish([other], there), new BatchWish(codes, elsewhere) })
        {
            BenchShop.Must(await bench.Shop.Get<BuildBatch>().RunAsync(bench.Ask(), wish));
            await using var page = Page(bench);
            var home = await new BenchHome(page.Services.GetRequiredService<SharedWork>()).ReadAsync();
            Assert.DoesNotContain(home.Proposed, b => b.Kind == BatchKind.OvenLoad);
        }
    }

    [Fact]
    public async Task Round_WhoseCanIsDeclaredEmpty_WaitsForANewPlanEverywhere()
    {
        await using var bench = await BenchShop.OpenAsync(2);
        await bench.WorkToAsync(StepKind.Spray);
        var plan = await PublishAsync(bench);
        var round = plan.Plan.Batches.First(b => b.Kind == BatchKinds.Round);
        var booth = plan.OfBatch[round.Id].OrderBy(t => t.StartS).First().Station;
        await using var page = Page(bench);
        var home = new BenchHome(page.Services.GetRequiredService<SharedWork>());
        Assert.Contains((await home.ReadAsync()).Proposed, b => b.Plan == round.Id && b.Ready.Count > 0);

        await using (var context = await bench.Shop.ContextAsync())
            await context.Cans.Where(c => c.Code == round.Can).ExecuteUpdateAsync(c => c.SetProperty(x => x.LeftMl, 0m));
        page.Services.GetRequiredService<Notifier>().Tell([new Change(Topic.Stock, Guid.Empty)]);

        var now = await home.ReadAsync();
        Assert.DoesNotContain(now.Proposed, b => b.Kind == BatchKind.SprayRound && b.Ready.Count > 0 && b.Plan == round.Id);
        var list = page.Render<ProposalList>(p => p.Add(l => l.Proposed, now.Proposed).Add(l => l.Zone, now.Zone));
        Assert.Contains("waits for a new plan", list.Find(".notice").TextContent, StringComparison.Ordinal);
        var next = Card(page, booth, BatchKind.SprayRound).WaitForElement(".notice");
        Assert.Contains("waits for a new plan", next.TextContent, StringComparison.Ordinal);
        var work = await page.Services.GetRequiredService<SharedWork>().ReadAsync();
        var wall = WallSheet.Of(work, bench.Shop.Clock.GetUtcNow(), []);
        Assert.Equal(NextBatch.Waits, wall.Round!.Facts);
        Assert.DoesNotContain(wall.Rows, r => $"{r.Now} {r.Next}".Contains(PlannedName.Of(round.Id) + ",", StringComparison.Ordinal));

        // The new plan takes another can.
        await PublishAsync(bench);
        page.Services.GetRequiredService<Notifier>().Tell([new Change(Topic.Plan, Guid.Empty)]);
        Assert.Contains((await home.ReadAsync()).Proposed, b => b.Kind == BatchKind.SprayRound && b.Ready.Count > 0);
    }

    private static async Task<string> PressRowAsync(BenchShop bench)
    {
        await using var page = Page(bench);
        var work = await page.Services.GetRequiredService<SharedWork>().ReadAsync();
        var row = WallSheet.Of(work, bench.Shop.Clock.GetUtcNow(), []).Rows.Single(r => r.Who == "Flat press");
        return $"{row.Now} {row.Next}";
    }

    [Fact]
    public async Task Load_OfWhichSomeStillFlashOff_CountsThemApartAndSaysUntilWhen()
    {
        await using var bench = await BenchShop.OpenAsync(5);
        await bench.WorkToAsync(StepKind.Spray);
        await bench.DoAsync((await bench.PiecesAsync())[0].NextAttended!);
        bench.Wait(300);
        var spray = (await bench.PiecesAsync())[0].NextAttended!.Number;
        foreach (var count in new[] { 3, 2 })
        {
            var round = BenchShop.Must(await bench.StartAsync(spray, count)).Batch!;
            bench.Wait(60);
            BenchShop.Must(await bench.FinishBatchAsync(new FinishBatchWish(round)));
        }
        var rests = (await bench.PiecesAsync()).Select(p => p.Items.First(i => i.Number == spray + 1)).ToList();
        bench.Wait(rests[0].Settings.MinSeconds - 60);
        var plan = await PublishAsync(bench);
        var load = Assert.Single(plan.Plan.Batches, b => b.Kind == BatchKinds.Load);
        Assert.Equal(5, load.Places.Count);
        await using var page = Page(bench);
        var until = TimeZoneInfo
            .ConvertTime(rests.Max(r => r.StartedAt!.Value).AddSeconds(rests[0].Settings.MinSeconds), Zone)
            .ToString("t", CultureInfo.CurrentCulture);

        var offered = Card(page, plan.OfBatch[load.Id].First().Station, BatchKind.OvenLoad).WaitForElement("[data-move]");
        Assert.Contains($"3 of 5 ready, 2 flash off until {until}", offered.TextContent, StringComparison.Ordinal);
        Assert.Equal(5, JsonSerializer.Deserialize<Tap>(offered.GetAttribute("data-move")!, JsonForms.Default)!.Codes!.Count);

        bench.Wait(60);
        page.Services.GetRequiredService<Notifier>()
            .Tell([.. (await bench.PiecesAsync()).Select(p => new Change(Topic.Piece, p.Id.Value))]);
        offered = Card(page, plan.OfBatch[load.Id].First().Station, BatchKind.OvenLoad).WaitForElement("[data-move]");
        Assert.Contains("5 of 5 ready", offered.TextContent, StringComparison.Ordinal);
    }

    private static TimeZoneInfo Zone => TimeZoneInfo.FindSystemTimeZoneById("Europe/Berlin");

    private static IRenderedComponent<BatchCard> Card(BunitContext page, string station, BatchKind kind = BatchKind.PressSession)
    {
        var over = new BatchSheet
        {
            Code = "OVER",
            Kind = kind,
            State = BatchState.Done,
            StationCode = station,
            StationName = station,
            StepWord = "Press",
        };
        return page.Render<BatchCard>(p => p.Add(c => c.Sheet, over));
    }

    private static BunitContext Page(BenchShop bench)
    {
        var page = new BunitContext();
        var contexts = bench.Shop.Get<IDbContextFactory<ShopContext>>();
        var notifier = new Notifier(NullLogger<Notifier>.Instance);
        var plans = new PlanShelf(contexts);
        var work = new SharedWork(contexts, bench.Shop.Clock, plans, new PlanHistory(contexts, plans), new PlanDesk(notifier), notifier);
        page.JSInterop.Mode = JSRuntimeMode.Loose;
        page.Services.AddLocalization();
        page.Services.AddSingleton<Spoken>();
        page.Services.AddSingleton<TimeProvider>(bench.Shop.Clock);
        page.Services.AddSingleton(notifier);
        page.Services.AddSingleton(work);
        page.Services.AddSingleton(new NextAtStation(work));
        return page;
    }

    internal static async Task<ReadPlan> PublishAsync(BenchShop bench)
    {
        await using var context = await bench.Shop.ContextAsync();
        var snapshot = await ShopSnapshot.ReadAsync(context, bench.Shop.Clock.GetUtcNow(), CancellationToken.None);
        var day = DayWriter.Write(DayFromShop.Make(snapshot));
        var plan = DayPlanner.First(DayFromShop.Make(snapshot), Fingerprint.Sha256(day));
        var input = new PlanInput(
            snapshot.Now,
            snapshot.Journal,
            Encoding.UTF8.GetString(day),
            Encoding.UTF8.GetString(PlanWriter.Write(plan)),
            "test"
        );
        Assert.True((await bench.Shop.Get<PublishPlan>().RunAsync(Asked.BySystem(), input)).IsOk);
        return (await bench.Shop.Get<PlanShelf>().LatestAsync())!;
    }
}

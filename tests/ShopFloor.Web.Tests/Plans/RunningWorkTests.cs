using Microsoft.EntityFrameworkCore;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.TestPieces;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Today;
using ShopFloor.Web.Tests.Bench;
using ShopFloor.Web.Wall.Parts;
using ShopFloor.Web.Wall.Reading;
using StepKind = ShopFloor.Domain.Recipes.StepKind;

namespace ShopFloor.Web.Tests.Plans;

/// <summary>What runs already, and what the plan leaves out, is said as it is: on the Wall, on the morning's page, in the plan.</summary>
public sealed class RunningWorkTests
{
    [Theory]
    [InlineData("Bo", "bo")]
    [InlineData("Shared tablet", null)]
    public async Task Press_StartedByAWorker_StandsUnderTheirNameAndNobodyElses(string name, string? person)
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await NameWorkerAsync(shop, name);
        await shop.WorkToAsync(StepKind.Press);
        BenchShop.Must(await shop.StartAsync((await shop.PiecesAsync())[0].NextAttended!.Number));
        var read = await PlanAsync(shop);
        Assert.Equal(person ?? "ada", read.Day.Running.Tasks.Single(t => t.Kind == TaskKinds.Press).Person);
        var rows = WallSheet.Of(await WorkAsync(shop, read), shop.Shop.Clock.GetUtcNow(), []).Rows;
        var pressing = rows.Where(r => r.Now.StartsWith("Press ", StringComparison.Ordinal)).Select(r => r.Who).ToList();
        var station = Assert.Single(pressing, w => w != name);
        Assert.Equal([name, station], pressing);
        Assert.DoesNotContain("press-", station, StringComparison.Ordinal);
    }

    /// <summary>A load that waits for a cold oven waits for somebody to switch it on: the Wall says when, and what the dial must show.</summary>
    [Fact]
    public async Task Oven_ThatMustBeWarmForALoad_IsSaidToBeSwitchedOnInTime()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.WorkToAsync(StepKind.Cure);
        var read = await PlanAsync(shop);
        var heats = read.Plan.Tasks.First(t => t.Kind == TaskKinds.SetPoint && t.ToTenthsC > read.Day.RoomTenthsC);
        var words = $"Set the dial to {PlanWords.Dial(read.Day, heats.Station, heats.ToTenthsC!.Value)}";
        var now = await WorkAsync(shop, read);
        var meanwhile = WallSheet.Of(now, read.Instant(heats.StartS), []).Rows;
        Assert.Contains(meanwhile, r => r.Now == words && r.NextAt is not null);
        var before = WallSheet.Of(now, read.Instant(heats.StartS) - TimeSpan.FromMinutes(1), []).Rows;
        Assert.Contains(before, r => r.Next == words);
    }

    [Fact]
    public async Task Cure_ThatEndsWhenNobodyIsThere_IsCalledWithItsLatestTimeAndNotWhenSomebodyIs()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.WorkToAsync(StepKind.Cure);
        var code = BenchShop.Must(await shop.StartAsync((await shop.PiecesAsync())[0].NextAttended!.Number)).Batch!;
        var read = await PlanAsync(shop);
        var there = WithShifts(read, [new Shift(0, 86_400, 86_400)]);
        var gone = WithShifts(read, [new Shift(0, 60, 60), new Shift(80_000, 86_400, 86_400)]);
        var at = shop.Shop.Clock.GetUtcNow();
        var sheet = WallSheet.Of(await WorkAsync(shop, gone), at, []);
        var calls = sheet.Calls;
        var call = Assert.Single(calls, c => c.Rule == UrgencyRules.Unattended);
        var max = calls.Single(c => c.Rule == UrgencyRules.Over).From;
        Assert.Equal((code, (DateTimeOffset?)max, WallTime.Of(max, sheet.Zone)), (call.What, call.Until, call.Where));
        Assert.True(call.From <= at);
        // Somebody is there, but has another load to take out then.
        var busy = read.Plan with
        {
            Tasks = [.. read.Plan.Tasks.Select(t => t.Batch == code && t.Kind == TaskKinds.Unload ? Later(t) : t)],
        };
        var late = WallSheet.Of(await WorkAsync(shop, WithPlan(there, busy)), at, []).Calls;
        Assert.Contains(late, c => c.Rule == UrgencyRules.Unattended);
        static PlanTask Later(PlanTask unload) => unload with { StartS = unload.StartS + 50_000, EndS = unload.EndS + 50_000 };
        Assert.DoesNotContain(WallSheet.Of(await WorkAsync(shop, there), at, []).Calls, c => c.Rule == UrgencyRules.Unattended);
    }

    [Fact]
    public async Task Piece_ThatAsksForATest_ComesAfterItsTestPieceAndIsNotOfferedBefore()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true, material: "slate");
        BenchShop.Must(await shop.ReceiveAsync());
        var at = shop.Shop.Clock.GetUtcNow();
        var untested = WallSheet.Of(await WorkAsync(shop, await PlanAsync(shop)), at, []).Rows;
        Assert.Contains(untested, r => r.Now == $"Test piece first: {shop.Code}");
        Assert.DoesNotContain(untested, r => $"{r.Now} {r.Next}".Contains($"Clean {shop.Code}", StringComparison.Ordinal));

        var test = BenchShop.Must(await shop.Shop.Get<MakeTestPiece>().RunAsync(shop.Ask(), new Target(shop.Code))).Codes[0];
        var read = await PlanAsync(shop);
        Assert.Equal([test], read.Day.Pieces.Single(p => p.Id == shop.Code).After);
        var rows = WallSheet.Of(await WorkAsync(shop, read), at, []).Rows;
        Assert.Contains(rows, r => r.Now == $"Clean {test}");
        Assert.DoesNotContain(rows, r => $"{r.Now} {r.Next}".Contains($"Clean {shop.Code}", StringComparison.Ordinal));

        BenchShop.Must(await shop.Shop.Get<ReceivePieces>().RunAsync(shop.Ask(), new Target(test)));
        await shop.WorkToAsync(StepKind.Inspect, test);
        BenchShop.Must(await TestPieceTests.JudgeAsync(shop, test, ShopFloor.Domain.Materials.TestOutcome.Good, ""));
        var after = await PlanAsync(shop);
        Assert.Empty(after.Day.Pieces.Single(p => p.Id == shop.Code).After);
        var last = WallSheet.Of(await WorkAsync(shop, after), shop.Shop.Clock.GetUtcNow(), []).Rows;
        Assert.Contains(last, r => $"{r.Now} {r.Next}".Contains($"Clean {shop.Code}", StringComparison.Ordinal));
    }

    /// <summary>Its material may be tested: of an old coat only the test of its own line says anything, and then that is said no more.</summary>
    [Fact]
    public async Task Piece_WithAnOldCoat_IsToBeTestedFirstUntilTheTestOfItsLineCameOutWell()
    {
        await using var shop = await OldCoatTests.OpenAsync(ShopFloor.Domain.Materials.Answer.Yes, isAsked: true);
        BenchShop.Must(await shop.ReceiveAsync());
        Assert.True(await ShowsAsync($"Test piece first: {shop.Code}"));
        Assert.False(await ShowsAsync($"Clean {shop.Code}"));
        var test = await TestPieceTests.WorkTestAsync(shop);
        BenchShop.Must(await TestPieceTests.JudgeAsync(shop, test, ShopFloor.Domain.Materials.TestOutcome.Good, ""));
        Assert.False(await ShowsAsync($"Test piece first: {shop.Code}"));
        Assert.True(await ShowsAsync($"Clean {shop.Code}"));

        async Task<bool> ShowsAsync(string words)
        {
            var now = await WorkAsync(shop, await PlanAsync(shop));
            var rows = WallSheet.Of(now, shop.Shop.Clock.GetUtcNow(), []).Rows;
            return rows.Any(r => $"{r.Now} {r.Next}".Contains(words, StringComparison.Ordinal));
        }
    }

    [Fact]
    public async Task Oven_LoadStoppedAndAnotherRuns_TheWallShowsTheOneThatRuns()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.WorkToAsync(StepKind.Cure);
        var cure = (await shop.PiecesAsync())[0].NextAttended!.Number;
        var first = BenchShop.Must(await shop.StartAsync(cure)).Batch!;
        shop.Wait(60);
        var read = await PlanAsync(shop);
        BenchShop.Must(await shop.Shop.Get<StopBatch>().RunAsync(shop.Ask(), new StopBatchWish(first, "Power cut")));
        shop.Wait(60);
        var at = shop.Shop.Clock.GetUtcNow();
        Assert.DoesNotContain(
            WallSheet.Of(await WorkAsync(shop, read), at, []).Rows,
            r => $"{r.Now} {r.Next}".Contains(first, StringComparison.Ordinal)
        );
        var second = BenchShop.Must(await shop.StartAsync(cure)).Batch!;
        var rows = WallSheet.Of(await WorkAsync(shop, read), at, []).Rows;
        Assert.Contains(rows, r => r.Now == $"Cure {second}");
        Assert.DoesNotContain(rows, r => $"{r.Now} {r.Next}".Contains(first, StringComparison.Ordinal));
    }

    /// <summary>A plan made before does not know that the oven broke: the Wall says so all the same, above everything else.</summary>
    [Fact]
    public async Task Oven_Broken_StandsFirstWithUntilWhen()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.WorkToAsync(StepKind.Cure);
        var load = BenchShop.Must(await shop.StartAsync((await shop.PiecesAsync())[0].NextAttended!.Number)).Batch!;
        var read = await PlanAsync(shop);
        BenchShop.Must(await shop.Shop.Get<StopBatch>().RunAsync(shop.Ask(), new StopBatchWish(load, "Station broken", BrokenHours: 2)));
        var at = shop.Shop.Clock.GetUtcNow();
        var row = WallSheet.Of(await WorkAsync(shop, read), at, []).Rows[0];
        Assert.Equal(("cannot be used until", true), (row.Now, row.IsDown));
        Assert.Equal(at + TimeSpan.FromHours(2), row.NowAt?.At);
    }

    [Fact]
    public async Task Person_WhoseShiftHasNotBegun_IsNotFreeButHereFromThen()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.WorkToAsync(StepKind.Cure);
        var read = await PlanAsync(shop);
        var tasks = read.Plan.Tasks.Select(t => t with { StartS = t.StartS + 4_000, EndS = t.EndS + 4_000 });
        var away = WithShifts(WithPlan(read, read.Plan with { Tasks = [.. tasks] }), [new Shift(3_600, 9_000, 9_000)]);
        var at = shop.Shop.Clock.GetUtcNow();
        var rows = WallSheet.Of(await WorkAsync(shop, away), at, []).Rows.Where(r => r.Now == "here from").ToList();
        Assert.NotEmpty(rows);
        Assert.All(rows, r => Assert.Equal(away.Instant(3_600), r.NowAt?.At));
        var there = WallSheet.Of(await WorkAsync(shop, away), away.Instant(3_700), []).Rows;
        Assert.DoesNotContain(there, r => r.Now == "here from");
        Assert.Contains(there, r => r.Now == "free");
    }

    [Fact]
    public async Task Load_PlannedForThisVerySecond_IsTheNextAndTheOneThatRunsIsNot()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.WorkToAsync(StepKind.Cure);
        var cure = (await shop.PiecesAsync())[0].NextAttended!.Number;
        var read = await PlanAsync(shop);
        var load = read.Plan.Batches.First(b => b.Kind == BatchKinds.Load && b.Places.Any(p => p.Step == cure));
        var wait = read.Plan.Tasks.Where(t => t.Batch == load.Id).Min(t => t.StartS);
        var now = read.Plan with { Tasks = [.. read.Plan.Tasks.Select(t => t with { StartS = t.StartS - wait, EndS = t.EndS - wait })] };
        var at = shop.Shop.Clock.GetUtcNow();
        var next = WallSheet.Of(await WorkAsync(shop, WithPlan(read, now)), at, []).Load;
        Assert.Equal((load.Id, at), (next?.Plan, next?.At?.At));

        BenchShop.Must(await shop.StartAsync(cure, count: 1));
        var running = await PlanAsync(shop);
        Assert.NotEqual(running.Day.Running.Batches.Single().Id, WallSheet.Of(await WorkAsync(shop, running), at, []).Load?.Plan);
    }

    [Fact]
    public async Task Oven_AllOfItsLoadPutAside_IsNotPlannedForOthersUntilItIsOut()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        await shop.WorkToAsync(StepKind.Cure);
        var cure = (await shop.PiecesAsync())[0].NextAttended!;
        var other = await shop.BookAsync(1, own: true, Domain.Recipes.Finish.WhiteGround, "al");
        BenchShop.Must(await shop.Shop.Get<ReceivePieces>().RunAsync(shop.Ask(), new Target(other)));
        await shop.WorkToAsync(StepKind.Cure, other);
        var load = BenchShop.Must(await shop.StartAsync(cure.Number)).Batch!;
        BenchShop.Must(await shop.AsideAsync(new Target(shop.Code), "look at it"));
        var read = await PlanAsync(shop);
        Assert.True(read.Plan.Tasks.Where(t => t.Kind == TaskKinds.Load).Min(t => t.StartS) >= cure.Settings.MinSeconds);
        Assert.Equal(new Span(0, cure.Settings.MinSeconds), Assert.Single(Down(read)));

        // Its time is over, and nobody has taken it out.
        shop.Wait(cure.Settings.MinSeconds + 60);
        Assert.Equal(new Span(0, 1_800 - 60), Assert.Single(Down(await PlanAsync(shop))));
        BenchShop.Must(await shop.Shop.Get<StopBatch>().RunAsync(shop.Ask(), new StopBatchWish(load, "taken out")));
        Assert.Empty(Down(await PlanAsync(shop)));

        static IEnumerable<Span> Down(ReadPlan plan) => plan.Day.Stations.OfType<Oven>().SelectMany(o => o.Down);
    }

    [Theory]
    [InlineData(60)]
    [InlineData(150)]
    public async Task Oven_FoundTooCold_IsNotPlannedToBeEmptiedBeforeTheBenchLetsIt(int celsius)
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.WorkToAsync(StepKind.Cure);
        var load = BenchShop.Must(await shop.StartAsync((await shop.PiecesAsync())[0].NextAttended!.Number)).Batch!;
        shop.Wait(60);
        var before = await UnloadAsync(shop, load);
        BenchShop.Must(await shop.Shop.Get<KeepReading>().RunAsync(shop.Ask(), new ReadingWish(load, celsius)));
        var timer = (await shop.Shop.Get<ShopFloor.Web.Bench.Reading.FindByCode>().ReadAsync(load)).Value.Batch!.Timer!;
        var unload = await UnloadAsync(shop, load);
        Assert.True(before < timer.Min, $"{before:O} {timer.Min:O}");
        Assert.True(unload >= timer.Min, $"{unload:O} {timer.Min:O}");

        static async Task<DateTimeOffset> UnloadAsync(BenchShop shop, string load)
        {
            var read = await PlanAsync(shop);
            return read.Instant(read.Plan.Tasks.Single(t => t.Batch == load && t.Kind == TaskKinds.Unload).StartS);
        }
    }

    [Fact]
    public async Task Load_OnAShelfThatItsOvenHasNoMore_IsPlannedOnTheLast()
    {
        await using var shop = await BenchShop.OpenAsync(1);
        await shop.WorkToAsync(StepKind.Cure);
        var load = BenchShop.Must(await shop.StartAsync((await shop.PiecesAsync())[0].NextAttended!.Number)).Batch!;
        await using (var context = await shop.Shop.ContextAsync())
        {
            var batch = await context.Batches.SingleAsync(b => b.Code == load);
            context.Entry(batch).Property(b => b.Places).CurrentValue = [.. batch.Places.Select(p => p with { Shelf = 2 })];
            var oven = await context.Stations.SingleAsync(s => s.Id == batch.Station);
            var settings = (Domain.Stations.OvenSettings)oven.Settings;
            Assert.True(oven.Change(oven.Name, settings with { Shelves = [settings.Shelves[0]] }).IsOk);
            await context.SaveChangesAsync();
        }
        var day = (await PlanAsync(shop)).Day;
        Assert.Equal(1, Assert.Single(day.Running.Batches.Single(b => b.Id == load).Places).Shelf);
        Assert.True(DayReader.Read(DayWriter.Write(day), "day").IsOk);
    }

    [Fact]
    public async Task Promise_OfAPieceLeftOutWhileItRests_IsNotPlannedAndSaysWhy()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.ReceiveAsync();
        var read = await PlanAsync(shop);
        var pieces = await shop.PiecesAsync();
        var at = shop.Shop.Clock.GetUtcNow();
        Assert.NotNull(PlannedPromise.Of(read, at, pieces).Spare);
        var left = read.Plan with { LeftOut = [new LeftOut(pieces[1].Code, "no coating", "Too little is left.")] };
        var again = WithPlan(read, left);
        Assert.Equal(new PlannedPromise(null, "no coating"), PlannedPromise.Of(again, at, pieces));
        Assert.NotNull(PlannedPromise.Of(again, at, [pieces[0]]).Spare);
        Assert.Equal(default, PlannedPromise.Of(null, at, pieces));
    }

    [Fact]
    public async Task Promise_CheckedGoodButNotPacked_IsOpenOnTheWallAndOnTheMorningsPage()
    {
        await using var shop = await BenchShop.OpenAsync(1);
        await shop.WorkToAsync(StepKind.Pack);
        await using (var context = await shop.Shop.ContextAsync())
        {
            (await context.Orders.SingleAsync()).Promise(shop.Shop.Clock.GetUtcNow().AddHours(-1));
            await context.SaveChangesAsync();
        }
        var now = shop.Shop.Clock.GetUtcNow();
        var line = Assert.Single(WallSheet.Of(await WorkAsync(shop, null), now, []).Promises);
        var today = await shop.Shop.Get<TodayView>().LoadAsync();
        Assert.Equal((1, 1), (line.Good, line.Pieces));
        Assert.Equal((1, 0), (today.Late.Count, today.Ready.Count));
        await shop.DoAsync((await shop.PiecesAsync())[0].NextAttended!);
        Assert.Empty(WallSheet.Of(await WorkAsync(shop, null), now, []).Promises);
        today = await shop.Shop.Get<TodayView>().LoadAsync();
        Assert.Equal((0, 1), (today.Late.Count, today.Ready.Count));
    }

    private static async Task NameWorkerAsync(BenchShop shop, string name)
    {
        await using var context = await shop.Shop.ContextAsync();
        (await context.Users.SingleAsync(u => u.Id == shop.Worker)).DisplayName = name;
        await context.SaveChangesAsync();
    }

    private static ReadPlan WithPlan(ReadPlan read, Plan plan) => new(2, read.Zero, read.At, read.Day, plan, "test", read.Journal);

    private static ReadPlan WithShifts(ReadPlan read, IReadOnlyList<Shift> shifts) =>
        read with
        {
            Day = read.Day with { People = [.. read.Day.People.Select(p => p with { Shifts = shifts })] },
        };

    private static async Task<ReadPlan> PlanAsync(BenchShop shop)
    {
        await using var context = await shop.Shop.ContextAsync();
        var snapshot = await ShopSnapshot.ReadAsync(context, shop.Shop.Clock.GetUtcNow(), CancellationToken.None);
        var day = DayFromShop.Make(snapshot);
        return new ReadPlan(1, snapshot.Now, snapshot.Now, day, DayPlanner.First(day), "test", snapshot.Journal);
    }

    private static async Task<WorkNow> WorkAsync(BenchShop shop, ReadPlan? plan)
    {
        var contexts = shop.Shop.Get<IDbContextFactory<ShopFloor.Data.ShopContext>>();
        var plans = new PlanShelf(contexts);
        var notifier = new Notifier(Microsoft.Extensions.Logging.Abstractions.NullLogger<Notifier>.Instance);
        using var work = new SharedWork(
            contexts,
            shop.Shop.Clock,
            plans,
            new PlanHistory(contexts, plans),
            new PlanDesk(notifier),
            notifier
        );
        return (await work.ReadAsync()) with { Plan = plan };
    }
}

using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Live;
using ShopFloor.Web.Shared;
using ShopFloor.Web.Tests.Architecture;
using ShopFloor.Web.Tests.Bench;
using ShopFloor.Web.Wall.Parts;
using ShopFloor.Web.Wall.Reading;

namespace ShopFloor.Web.Tests.Wall;

/// <summary>What the Wall makes of what is in work: urgency, promises, next batches; and that one read serves all walls.</summary>
public sealed class WallSheetTests
{
    [Fact]
    public void Rules_Each_SaysCauseConsequenceResponseTimeAndItsOwnPriority()
    {
        Assert.All(
            UrgencyRules.All,
            r => Assert.All((string[])[r.Cause, r.Consequence, r.Response, r.Time, r.Words], text => Assert.NotEmpty(text))
        );
        Assert.Equal(Enumerable.Range(1, UrgencyRules.All.Count), UrgencyRules.All.Select(r => r.Priority));
    }

    [Fact]
    public void Rules_OnTheirPage_StandInTheirOrderWithWhatSounds()
    {
        var rows = Tree.Lines("docs/wall-and-bench.md").Where(l => l.Length > 2 && char.IsAsciiDigit(l[2]) && l[0] == '|').ToList();
        Assert.Equal(
            ["too long", "nobody is there", "ends soon", "may come out", "promise missed", "put aside, decide"],
            rows.Select(r => r.Split('|')[2].Trim())
        );
        Assert.Equal(UrgencyRules.All.Select(r => $"{r.Priority}"), rows.Select(r => r.Split('|')[1].Trim()[..1]));
        Assert.All(
            UrgencyRules.All.Zip(rows),
            x => Assert.EndsWith($"| {x.First.Time} |", x.Second[..(x.Second[..^2].LastIndexOf('|') + 1)], StringComparison.Ordinal)
        );
        Assert.Equal(
            UrgencyRules.All.Count(r => r.Priority <= 3),
            rows.Count(r => r.Contains(" tones, again every 30 s |", StringComparison.Ordinal))
        );
    }

    [Fact]
    public async Task Calls_OfARunningCure_FollowOneAnotherWithoutAGapAndTheMaximumIsCalledBefore()
    {
        await using var shop = await BenchShop.OpenAsync(4);
        var load = await CureAsync(shop);
        var calls = (await SheetAsync(shop)).Calls.Where(c => c.Subject == load).OrderBy(c => c.From).ToList();
        Assert.Equal(["due", "near", "over"], calls.Select(c => c.Rule.Key));
        var timer = (await SheetAsync(shop)).Timers.Single(t => t.Subject == load).Timer;
        Assert.Equal(timer.Min, calls[0].From);
        Assert.Equal(calls[0].Until, calls[1].From);
        Assert.Equal((timer.Max, null), (calls[1].Until, calls[2].Until));
        Assert.True(timer.Max - calls[1].From >= UrgencyRules.LeastWarning);
        Assert.Equal(timer.Max, calls[2].From);
    }

    [Fact]
    public async Task Calls_OfAPieceWhoseCoatMustFollow_NameThePiece()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        await shop.WorkToAsync(StepKind.Spray);
        var sheet = await SheetAsync(shop);
        Assert.Contains(sheet.Calls, c => c.Rule.Key == "over" && c.Subject == shop.Code);
        Assert.Contains(shop.Code, Assert.Single(sheet.Timers).What, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Promises_OfToday_ShowWhatIsGoodAndAMissedOneCallsOnceForAll()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await PromiseAsync(shop, TimeSpan.FromHours(3));
        var line = Assert.Single((await SheetAsync(shop)).Promises);
        Assert.Equal((0, 2, null), (line.Good, line.Pieces, line.Spare));
        await PromiseAsync(shop, TimeSpan.FromHours(-1));
        var late = Assert.Single((await SheetAsync(shop)).Calls, c => c.Rule.Key == "late");
        Assert.Equal($"late {line.Order}", late.Key);
        await PromiseAsync(shop, TimeSpan.FromDays(3));
        Assert.Empty((await SheetAsync(shop)).Promises);
    }

    [Fact]
    public async Task Promises_OfAnotherDay_SayHowManyDaysAway()
    {
        await using var shop = await BenchShop.OpenAsync(1);
        await PromiseAsync(shop, TimeSpan.FromHours(-24));
        Assert.Equal(-1, Assert.Single((await SheetAsync(shop)).Promises).At.Days);
    }

    [Fact]
    public async Task Aside_PromisedWithinADay_CallsByThePiecesAndOneMoreIsANewCall()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        await shop.ReceiveAsync();
        await PromiseAsync(shop, TimeSpan.FromHours(5));
        BenchShop.Must(await shop.AsideAsync(new Target(shop.Code), "look"));
        Assert.Equal($"aside {shop.Code}", Assert.Single((await SheetAsync(shop)).Calls, c => c.Rule.Key == "aside").Key);
    }

    [Fact]
    public async Task Next_WhatIsPutTogetherAtTheBench_ComesBeforeThePlanWithPlacesToScale()
    {
        await using var shop = await BenchShop.OpenAsync(6);
        await shop.WorkToAsync(StepKind.Cure);
        var built = BenchShop.Must(await shop.Shop.Get<BuildBatch>().RunAsync(shop.Ask(), new BatchWish([shop.Code])));
        var load = (await SheetAsync(shop)).Load!;
        Assert.Equal((built.Batch, 6), (load.Name, load.Pieces));
        Assert.Equal(
            (await shop.PiecesAsync()).Select(p => p.Code).Order(),
            load.Surfaces.SelectMany(s => s.Places).Select(p => p.Code).Order()
        );
        Assert.All(load.Surfaces, s => Assert.All(s.Places, p => Assert.InRange(p.XMm + p.WidthMm, 0, s.WidthMm)));
    }

    [Fact]
    public async Task Stations_OfOneWall_HideWhatIsElsewhere()
    {
        await using var shop = await BenchShop.OpenAsync(4);
        var load = await CureAsync(shop);
        Assert.Contains((await SheetAsync(shop, "oven-1")).Timers, t => t.Subject == load);
        Assert.DoesNotContain((await SheetAsync(shop, "press-1")).Timers, t => t.Subject == load);
    }

    [Fact]
    public async Task Sheets_OfFiftyWalls_AreOneObjectAndPartsThatStayAreNotNew()
    {
        await using var shop = await BenchShop.OpenAsync(4);
        await shop.ReceiveAsync();
        using var walls = new Walls(shop);
        var all = await Task.WhenAll(Enumerable.Range(0, 50).Select(_ => walls.Sheets.ReadAsync([])));
        Assert.All(all, s => Assert.Same(all[0], s));
        walls.Notifier.Tell([new Change(Topic.Plan, Guid.Empty)]);
        Assert.Same(all[0], await walls.Sheets.ReadAsync([]));
        BenchShop.Must(await shop.StartAsync(1));
        walls.Tell(await shop.PiecesAsync());
        var next = await walls.Sheets.ReadAsync([]);
        Assert.NotSame(all[0].Rows, next.Rows);
        Assert.Same(all[0].Promises, next.Promises);
    }

    // Law: whatever was changed and told, the shared read says the same as a read of everything.
    [Fact]
    public async Task Shared_AfterEachMove_SaysTheSameAsAReadOfEverything()
    {
        await using var shop = await BenchShop.OpenAsync(4);
        using var walls = new Walls(shop);
        await walls.Work.ReadAsync();
        var moves = new Func<Task<ShopFloor.Domain.Result<Moved>>>[]
        {
            shop.ReceiveAsync,
            () => shop.StartAsync(1, count: 2),
            () => shop.FinishAsync(1),
            () => shop.FinishAsync(2, count: 3),
            () => shop.AsideAsync(new Target(shop.Code), "look"),
            () =>
                shop
                    .Shop.Get<ReportFault>()
                    .RunAsync(shop.Ask(), new FaultReport(new Target(shop.Code), "dropped", "", new(TimeChoice.Spoil, ""))),
        };
        foreach (var move in moves)
        {
            BenchShop.Must(await move());
            walls.Tell(await shop.PiecesAsync());
            var (shared, whole) = ((await walls.Work.ReadAsync()).Work.Pieces, (await WorkAsync(shop)).Work.Pieces);
            Assert.Equal(whole.Select(BenchShop.Facts), shared.Select(BenchShop.Facts));
        }
    }

    private static async Task<string> CureAsync(BenchShop shop)
    {
        await shop.WorkToAsync(StepKind.Cure);
        return BenchShop.Must(await shop.StartAsync((await shop.PiecesAsync())[0].NextAttended!.Number)).Batch!;
    }

    private static async Task PromiseAsync(BenchShop shop, TimeSpan from)
    {
        await using var context = await shop.Shop.ContextAsync();
        (await context.Orders.FirstAsync()).Promise(shop.Shop.Clock.GetUtcNow() + from);
        await context.SaveChangesAsync();
    }

    [Fact]
    public async Task Sheet_PlanRefused_SaysThatThePlanIsOldUntilOneIsPublished()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        using var walls = new Walls(shop);
        async Task<bool> IsOldAsync(PlannerState state)
        {
            walls.Desk.Show(new PlannerStatus(state, 0, 0, 0, 0, ""));
            return (await walls.Sheets.ReadAsync([])).IsPlanBehind;
        }
        Assert.False(await IsOldAsync(PlannerState.Planning));
        Assert.True(await IsOldAsync(PlannerState.Refused));
        Assert.True(await IsOldAsync(PlannerState.Planning));
        Assert.False(await IsOldAsync(PlannerState.Improving));
    }

    private static async Task<WallSheet> SheetAsync(BenchShop shop, params string[] stations) =>
        WallSheet.Of(await WorkAsync(shop), shop.Shop.Clock.GetUtcNow(), stations);

    private static async Task<WorkNow> WorkAsync(BenchShop shop)
    {
        using var walls = new Walls(shop);
        return await walls.Work.ReadAsync();
    }

    private sealed class Walls : IDisposable
    {
        public Walls(BenchShop shop)
        {
            var contexts = shop.Shop.Get<IDbContextFactory<ShopFloor.Data.ShopContext>>();
            Notifier = new Notifier(Microsoft.Extensions.Logging.Abstractions.NullLogger<Notifier>.Instance);
            var plans = new PlanShelf(contexts);
            Desk = new PlanDesk(Notifier);
            Work = new SharedWork(contexts, shop.Shop.Clock, plans, new PlanHistory(contexts, plans), Desk, Notifier);
            Sheets = new SharedSheets(Work, shop.Shop.Clock);
        }

        public Notifier Notifier { get; }

        public PlanDesk Desk { get; }

        public SharedWork Work { get; }

        public SharedSheets Sheets { get; }

        public void Tell(IEnumerable<Piece> pieces) => Notifier.Tell([.. pieces.Select(p => new Change(Topic.Piece, p.Id.Value))]);

        public void Dispose() => Work.Dispose();
    }
}

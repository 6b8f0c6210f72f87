using Microsoft.EntityFrameworkCore;
using ShopFloor.Data.Records;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Background.Rounds;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.TestPieces;
using ShopFloor.Web.Documents;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Office.Stock;
using ShopFloor.Web.Office.Today;
using ShopFloor.Web.Tests.Bench;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office;

/// <summary>The morning's page tells what wants the owner, and nothing that is done.</summary>
public sealed class TodayTests
{
    [Fact]
    public async Task Load_DemoWorkshop_AgreesWithTheDatabase()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var sheet = await shop.Get<TodayView>().LoadAsync();
        await using var context = await shop.ContextAsync();
        var now = shop.Clock.GetUtcNow();
        PieceState[] ended = [PieceState.HandedOver, PieceState.Spoiled, PieceState.Returned];
        var pieces = await context.Pieces.Where(p => !ended.Contains(p.State) && !p.IsTest).ToListAsync();
        var unfinished = pieces.Where(p => p.State != PieceState.CheckedGood).Select(p => p.Order).ToHashSet();
        var open = (await context.Orders.ToListAsync()).Where(o => unfinished.Contains(o.Id)).ToList();
        Assert.Equal(open.Count(o => o.PromisedAt < now), sheet.Late.Count);
        Assert.NotEmpty(sheet.Promises);
        Assert.All(sheet.Promises, p => Assert.Contains(open, o => o.Number == p.Number));
        Assert.Equal(await context.Pieces.CountAsync(p => p.State == PieceState.Held), sheet.Held.Count);
        Assert.NotEmpty(sheet.Ready);
        Assert.Contains(sheet.Expiring, c => c.State == CanState.ExpiresSoon);
        Assert.Equal(new BackupState(null, null), sheet.Backup);
    }

    [Fact]
    public async Task Load_OrderThroughTheWork_MovesFromPromisesToReady()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 1);
        async Task<TodaySheet> LookAsync() => await bench.Shop.Get<TodayView>().LoadAsync();
        await bench.WorkToAsync(StepKind.Pack);
        await using (var context = await bench.Shop.ContextAsync())
        {
            (await context.Orders.SingleAsync()).Promise(bench.Shop.Clock.GetUtcNow().AddHours(-1));
            await context.SaveChangesAsync();
        }
        Assert.Single((await LookAsync()).Late);
        await bench.DoAsync((await bench.PiecesAsync())[0].NextAttended!);
        var after = await LookAsync();
        Assert.Empty(after.Late);
        Assert.Equal(0, Assert.Single(after.Ready).Days);
    }

    [Fact]
    public async Task Load_QuestionToACustomer_IsListedUntilItIsAnswered()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 1);
        async Task SayAsync(Action<Order> say)
        {
            await using var context = await bench.Shop.ContextAsync();
            say(await context.Orders.SingleAsync());
            await context.SaveChangesAsync();
        }
        async Task<IReadOnlyList<QuestionRow>> LookAsync() => (await bench.Shop.Get<TodayView>().LoadAsync()).Questions;
        var now = bench.Shop.Clock.GetUtcNow();
        await SayAsync(o => Assert.True(o.Ask("Matt or glossy?", now).IsOk && o.Ask("In a box?", now.AddMinutes(1)).IsOk));
        Assert.Equal([(1, "Matt or glossy?"), (1, "In a box?")], (await LookAsync()).Select(q => (q.Order, q.Question)));
        await SayAsync(o => Assert.True(o.Answer(1, "Matt", now).IsOk));
        Assert.Equal("In a box?", Assert.Single(await LookAsync()).Question);
    }

    [Fact]
    public async Task Load_CheckedGoodAndNotPackedYet_IsNotReadyHereNorInTheOrders()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 1);
        await bench.WorkToAsync(StepKind.Pack);
        Assert.Empty((await bench.Shop.Get<TodayView>().LoadAsync()).Ready);
        Assert.Equal(0, (await OrdersAsync(bench.Shop, OrderFilter.Ready)).Count);
        Assert.True(Assert.Single((await OrdersAsync(bench.Shop, OrderFilter.Open)).Rows).IsOpen);

        await bench.DoAsync((await bench.PiecesAsync())[0].NextAttended!);

        Assert.Equal(1, Assert.Single((await bench.Shop.Get<TodayView>().LoadAsync()).Ready).Pieces);
        Assert.Equal(1, (await OrdersAsync(bench.Shop, OrderFilter.Ready)).Count);
        Assert.Equal(0, (await OrdersAsync(bench.Shop, OrderFilter.Open)).Count);
        Assert.Empty((await bench.Shop.Get<TodayView>().LoadAsync()).Promises);
    }

    [Fact]
    public async Task Load_OrderWithATestPiece_CountsOnlyTheCustomersPieces()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 2, own: true, material: "slate");
        var made = await bench.Shop.Get<MakeTestPiece>().RunAsync(bench.Ask(), new Target(bench.Code));
        Assert.True(made.IsOk);
        await using (var context = await bench.Shop.ContextAsync())
        {
            (await context.Orders.SingleAsync()).Promise(bench.Shop.Clock.GetUtcNow().AddHours(1));
            await context.SaveChangesAsync();
        }
        var row = Assert.Single((await bench.Shop.Get<TodayView>().LoadAsync()).Promises);
        Assert.Equal((0, 2), (row.Good, row.Pieces));
        var labels = (await bench.Shop.Get<PaperList>().ReadAsync()).First(l => l.Wish.Kind == PaperKind.Labels);
        Assert.Equal("2 pieces, 1 test piece", labels.About);
    }

    [Fact]
    public async Task Load_DemoWorkshop_HasTheSameOrdersReadyAsTheOrderList()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var listed = (await OrdersAsync(shop, OrderFilter.Ready)).Rows.Where(r => !r.IsCancelled).Select(r => r.Number).Order();
        Assert.Equal(listed, (await shop.Get<TodayView>().LoadAsync()).Ready.Select(r => r.Number).Order());
    }

    private static Task<OrderSlice> OrdersAsync(TestShop shop, OrderFilter filter) =>
        shop.Get<OrderListView>().LoadAsync(null, filter, OrderSort.Newest, new OrderSpan(0, OrderListView.Most));

    [Fact]
    public async Task Load_BackupThere_TellsItsAge()
    {
        await using var shop = await TestShop.EmptyAsync();
        var folder = Directory.CreateDirectory(Path.Combine(shop.Folder, "backups")).FullName;
        var file = Path.Combine(folder, "shopfloor-20260301.db");
        await File.WriteAllTextAsync(file, "x");
        var made = shop.Clock.GetUtcNow().AddDays(-3);
        File.SetLastWriteTimeUtc(file, made.UtcDateTime);
        Assert.Equal(made, (await shop.Get<TodayView>().LoadAsync()).Backup.MadeAt);
    }

    /// <summary>A restored database remembers a trial of a backup that lies elsewhere.</summary>
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Load_TrialOfABackupThatIsNotHere_IsToldOnlyWhenItFailed(bool good)
    {
        await using var shop = await TestShop.EmptyAsync();
        await using var context = await shop.ContextAsync();
        context.SecurityEvents.Add(
            new SecurityEvent(Guid.CreateVersion7(), shop.Clock.GetUtcNow(), RehearseRestore.What, "", "shopfloor-20260301.db", good)
        );
        await context.SaveChangesAsync();
        var backup = (await shop.Get<TodayView>().LoadAsync()).Backup;
        Assert.Equal((null, good), (backup.MadeAt, backup.Trial is null));
    }
}

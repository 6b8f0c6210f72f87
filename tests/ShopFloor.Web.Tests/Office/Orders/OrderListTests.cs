using System.Text;
using Bunit;
using Bunit.TestDoubles;
using Microsoft.AspNetCore.Components;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using ShopFloor.Domain.Recipes;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Tests.Bench;
using ShopFloor.Web.Tests.Support;
using StepKind = ShopFloor.Domain.Recipes.StepKind;

namespace ShopFloor.Web.Tests.Office.Orders;

/// <summary>The order list finds whatever state an order is in, and says where its work stands and when the plan has it ready.</summary>
public sealed class OrderListTests
{
    [Fact]
    public async Task Search_OrderLongHandedOver_IsFoundWithoutChoosingAState()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 1);
        await bench.WorkToAsync(StepKind.Pack);
        await bench.DoAsync((await bench.PiecesAsync())[0].NextAttended!);
        BenchShop.Must(await bench.Shop.Get<HandOver>().RunAsync(bench.Ask(), new Target(bench.Code)));
        await using var page = Page(bench.Shop);
        var navigation = page.Services.GetRequiredService<BunitNavigationManager>();
        navigation.NavigateTo("office/orders");
        var list = page.Render<OrdersPage>();
        Assert.Empty(list.FindAll("td a"));

        await list.Find("input[type=search]").ChangeAsync("Somebody");
        await list.Find("form").SubmitAsync();

        Assert.Contains("show=All", navigation.Uri, StringComparison.Ordinal);
        list.WaitForAssertion(() => Assert.Contains("handed over", list.Find("tbody").TextContent, StringComparison.Ordinal));
        Assert.Contains("all states", list.Find("p[role=status]").TextContent, StringComparison.Ordinal);
        navigation.NavigateTo("office/orders?q=Somebody");
        list.WaitForAssertion(() => Assert.Contains("handed over", list.Find("tbody").TextContent, StringComparison.Ordinal));
        Assert.DoesNotContain("not planned", list.Find("tbody").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Load_SortedByThePlan_HasPlannedOrdersFirstWithTheirTimesAndSteps()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 2);
        var second = await bench.BookAsync(1, false, Finish.WhiteGround, "al");
        BenchShop.Must(await bench.ReceiveAsync());
        BenchShop.Must(await bench.Shop.Get<ReceivePieces>().RunAsync(bench.Ask(), new Target(second)));
        var plan = await PublishAsync(bench);
        await bench.BookAsync(1, false, Finish.WhiteGround, "al");
        var all = await LoadAsync(bench, OrderSort.Planned, new OrderSpan(0, 50));

        var ends = plan.OrderEnds();
        Assert.Equal(["1", "2"], ends.Keys.Order());
        Assert.Equal(ends.OrderBy(e => e.Value).Select(e => e.Key).Append("3"), all.Select(r => $"{r.Number}"));
        Assert.Equal([.. ends.Values.Order(), null], all.Select(r => r.ReadyAt));
        Assert.Equal(plan.PieceEnds().Values.Max(), all.Max(r => r.ReadyAt));
        Assert.Equal(new StepCount("Clean", false, 2), Assert.Single(all.Single(r => r.Number == 1).Steps));
        Assert.Empty(all[2].Steps);
        Assert.Equal(
            all.Skip(1).Select(r => r.Number),
            (await LoadAsync(bench, OrderSort.Planned, new OrderSpan(1, 5))).Select(r => r.Number)
        );
        Assert.Equal(3, Assert.Single(await LoadAsync(bench, OrderSort.Planned, new OrderSpan(2, 1))).Number);

        // What is put aside is in no plan: the order is ready when somebody has decided.
        BenchShop.Must(await bench.AsideAsync(new Target(second), "Other trouble"));
        var held = await LoadAsync(bench, OrderSort.Planned, new OrderSpan(0, 50));
        Assert.Equal([1, 3, 2], held.Select(r => r.Number));
        Assert.Null(held[2].ReadyAt);
    }

    [Fact]
    public async Task Load_StepThatRuns_IsSaidInTheWordsOfTheWorkshop()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 1);
        await bench.WorkToAsync(StepKind.Spray);
        var next = (await bench.PiecesAsync())[0].NextAttended!;
        BenchShop.Must(await bench.StartAsync(next.Number));

        Assert.Equal(
            new StepCount(StepWords.Of(next.Settings), true, 1),
            Assert.Single(Assert.Single(await LoadAsync(bench, OrderSort.Newest, new OrderSpan(0, 9))).Steps)
        );
        var piece = Assert.Single((await bench.Shop.Get<OrderDetailView>().LoadAsync(1))!.Pieces);
        Assert.Equal((StepWords.Of(next.Settings), true), (piece.Step, piece.IsRunning));
    }

    private static async Task<IReadOnlyList<OrderRow>> LoadAsync(BenchShop bench, OrderSort sort, OrderSpan span) =>
        (await bench.Shop.Get<OrderListView>().LoadAsync(null, OrderFilter.All, sort, span)).Rows;

    private static BunitContext Page(TestShop shop)
    {
        var page = TestPage.Of(shop);
        page.Services.AddSingleton(new Notifier(NullLogger<Notifier>.Instance));
        return page;
    }

    private static async Task<ReadPlan> PublishAsync(BenchShop bench)
    {
        await using var context = await bench.Shop.ContextAsync();
        var snapshot = await ShopSnapshot.ReadAsync(context, bench.Shop.Clock.GetUtcNow(), CancellationToken.None);
        var day = DayWriter.Write(DayFromShop.Make(snapshot));
        var plan = PlanWriter.Write(DayPlanner.First(DayFromShop.Make(snapshot), Fingerprint.Sha256(day)));
        var input = new PlanInput(snapshot.Now, snapshot.Journal, Encoding.UTF8.GetString(day), Encoding.UTF8.GetString(plan), "test");
        Assert.True((await bench.Shop.Get<PublishPlan>().RunAsync(Asked.BySystem(), input)).IsOk);
        return (await bench.Shop.Get<PlanShelf>().LatestAsync())!;
    }
}

using System.Globalization;
using Bunit;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Office.Today;
using ShopFloor.Web.Office.Workshop;
using ShopFloor.Web.Tests.Bench;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office;

/// <summary>What went out without an invoice and what customers are owed stand on the morning's page until it is settled.</summary>
public sealed class TodayMoneyTests
{
    [Theory]
    [InlineData(null)]
    [InlineData("cash")]
    public async Task Load_HandedOver_IsToInvoiceUntilItIs(string? paidBy)
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 2);
        var (shop, owner) = (bench.Shop, await bench.Shop.WorkerAsync(WorkerRole.Owner));
        var profile = new WorkshopProfile
        {
            Name = "Moorlight",
            Country = "DE",
            VatId = "DE000000000",
        };
        Assert.True((await shop.Get<ChangeProfile>().RunAsync(Asked.By(owner), profile)).IsOk);
        await bench.WorkToAsync(StepKind.Mask);
        Assert.Empty((await LookAsync(shop)).ToInvoice);
        BenchShop.Must(await shop.Get<HandOver>().RunAsync(bench.Ask(), new Target(bench.Code)));
        var (number, id, gross) = await OrderAsync(shop);
        var row = Assert.Single((await LookAsync(shop)).ToInvoice);
        Assert.Equal((number, 2, gross), (row.Number, row.Pieces, row.Amount));

        // A forgotten one stays, however long ago.
        shop.Clock.Advance(TimeSpan.FromDays(200));
        Assert.Single((await LookAsync(shop)).ToInvoice);

        var issued = await shop.Get<IssueInvoice>().RunAsync(Asked.By(owner), new IssueInput(id, PaidBy: paidBy));
        Assert.True(issued.IsOk, string.Join("; ", issued.Refusals.Select(r => r.Text)));
        Assert.Empty((await LookAsync(shop)).ToInvoice);
    }

    [Fact]
    public async Task Load_DepositInvoicedAlone_TheRestIsToInvoice()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 1);
        var (shop, owner) = (bench.Shop, await bench.Shop.WorkerAsync(WorkerRole.Owner));
        var profile = new WorkshopProfile
        {
            Name = "Moorlight",
            Country = "DE",
            VatId = "DE000000000",
        };
        Assert.True((await shop.Get<ChangeProfile>().RunAsync(Asked.By(owner), profile)).IsOk);
        var (_, id, gross) = await OrderAsync(shop);
        Assert.True((await shop.Get<IssueInvoice>().RunAsync(Asked.By(owner), new IssueInput(id, Deposit: 5m))).IsOk);
        await bench.WorkToAsync(StepKind.Mask);
        BenchShop.Must(await shop.Get<HandOver>().RunAsync(bench.Ask(), new Target(bench.Code)));
        Assert.Equal(gross - 5m, Assert.Single((await LookAsync(shop)).ToInvoice).Amount);
    }

    [Fact]
    public async Task Load_CalledOffWithADepositPaid_IsToPayBackUntilItIs()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 1, own: true);
        var (shop, owner) = (bench.Shop, await bench.Shop.WorkerAsync(WorkerRole.Owner));
        var (number, id, _) = await OrderAsync(shop);
        var today = DateOnly.FromDateTime(shop.Clock.GetUtcNow().UtcDateTime);
        Task<Result<PaymentEntered>> PayAsync(decimal amount) =>
            shop.Get<EnterPayment>().RunAsync(Asked.By(owner), new PaymentInput(null, id, amount, today, "cash"));
        Assert.True((await PayAsync(10m)).IsOk);
        Assert.Empty((await LookAsync(shop)).ToPayBack);
        var now = (await shop.Get<OrderDetailView>().LoadAsync(number))!;
        var off = new OrderChange(now.Id, now.Version, OrderAct.Cancel, "called off");
        Assert.True((await shop.Get<ChangeOrder>().RunAsync(Asked.By(owner), off)).IsOk);

        var row = Assert.Single((await LookAsync(shop)).ToPayBack);
        Assert.Equal((10m, true, $"office/orders/{number}"), (row.Amount, row.IsOff, row.Href));
        Assert.True((await PayAsync(-10m)).IsOk);
        Assert.Empty((await LookAsync(shop)).ToPayBack);
    }

    /// <summary>However many were called off with money paid: they are read together, and not those whose money went back.</summary>
    [Fact]
    public async Task Load_ManyCalledOff_AreReadTogether()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 1, own: true);
        var (shop, owner) = (bench.Shop, await bench.Shop.WorkerAsync(WorkerRole.Owner));
        var today = DateOnly.FromDateTime(shop.Clock.GetUtcNow().UtcDateTime);
        for (var i = 0; i < 5; i++)
            await bench.BookAsync(1, own: true, Finish.WhiteGround, "al");
        await using var context = await shop.ContextAsync();
        var orders = await context.Orders.AsNoTracking().OrderBy(o => o.Number).ToListAsync();
        async Task PayAsync(OrderId order, decimal amount) =>
            Assert.True(
                (await shop.Get<EnterPayment>().RunAsync(Asked.By(owner), new PaymentInput(null, order, amount, today, "cash"))).IsOk
            );
        async Task<int> CallOffAsync(IEnumerable<Domain.Orders.Order> some)
        {
            foreach (var order in some)
            {
                await PayAsync(order.Id, 10m);
                var off = new OrderChange(
                    order.Id,
                    (await shop.Get<OrderDetailView>().LoadAsync(order.Number))!.Version,
                    OrderAct.Cancel,
                    "off"
                );
                Assert.True((await shop.Get<ChangeOrder>().RunAsync(Asked.By(owner), off)).IsOk);
            }
            shop.Reads.Clear();
            _ = await LookAsync(shop);
            return shop.Reads.Asked("FROM");
        }
        var one = await CallOffAsync(orders.Take(1));
        Assert.Equal(one, await CallOffAsync(orders.Skip(1)));
        Assert.Equal(6, (await LookAsync(shop)).ToPayBack.Count);

        foreach (var order in orders.Skip(1))
            await PayAsync(order.Id, -10m);
        shop.Reads.Clear();
        Assert.Equal(orders[0].Number.ToString(CultureInfo.InvariantCulture), Assert.Single((await LookAsync(shop)).ToPayBack).Name);
        Assert.Equal(1, shop.Reads.Rows("FROM \"Customers\""));
    }

    /// <summary>A step at the Bench changes no money: none is read for it while the morning's page is open.</summary>
    [Fact]
    public async Task Page_StepAtTheBench_ReadsTheWorkAndNoMoney()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 1);
        var shop = bench.Shop;
        await using var page = MeanwhilePages.Page(shop);
        page.Services.AddSingleton(shop.Get<Notifier>());
        page.Services.AddSingleton(shop.Get<TodayView>());
        page.Services.AddSingleton(shop.Get<MoneyView>());
        page.ComponentFactories.AddStub<FirstStepsCard>();
        page.ComponentFactories.AddStub<ClockNotice>();
        var open = page.Render<TodayPage>();
        open.WaitForElement("#today-to-invoice");
        shop.Reads.Clear();
        shop.Get<Notifier>().Tell([new Change(Topic.Piece, Guid.Empty)]);
        open.WaitForAssertion(() => Assert.True(shop.Reads.Asked("FROM \"Pieces\"") > 0));
        Assert.Equal(0, shop.Reads.Asked("\"Documents\"") + shop.Reads.Asked("\"Payments\""));
        shop.Get<Notifier>().Tell([new Change(Topic.Invoice, Guid.Empty)]);
        open.WaitForAssertion(() => Assert.True(shop.Reads.Asked("\"Documents\"") > 0));
    }

    private static Task<MoneySheet> LookAsync(TestShop shop) => shop.Get<MoneyView>().LoadAsync();

    private static async Task<(int Number, OrderId Id, decimal Gross)> OrderAsync(TestShop shop)
    {
        await using var context = await shop.ContextAsync();
        var order = await context.Orders.AsNoTracking().SingleAsync();
        return (order.Number, order.Id, order.Gross);
    }
}

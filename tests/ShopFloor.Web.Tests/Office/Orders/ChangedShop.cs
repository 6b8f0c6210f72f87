using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Background.Demo;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Office.Orders.Changes;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office.Orders;

/// <summary>A workshop with stations, stock, an owner and one order just booked, which is then put right.</summary>
internal sealed class ChangedShop : IAsyncDisposable
{
    private sealed record Nothing;

    private ChangedShop(TestShop shop, Guid owner, BookedOrder booked) => (Shop, Owner, Booked) = (shop, owner, booked);

    public TestShop Shop { get; }

    public Guid Owner { get; }

    public BookedOrder Booked { get; }

    public static async Task<ChangedShop> OpenAsync(OrderInput order) => await OpenAsync(await StockedAsync(), order);

    /// <summary>The same in the demo workshop, which may issue invoices.</summary>
    public static async Task<ChangedShop> OpenDemoAsync(OrderInput order) => await OpenAsync(await ShopOrders.DemoAsync(), order);

    private static async Task<ChangedShop> OpenAsync(TestShop shop, OrderInput order)
    {
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var booked = await shop.Get<BookOrder>().RunAsync(Commands.Asked.By(owner), await shop.ShownAsync(order));
        Assert.True(booked.IsOk, booked.Refusals.FirstOrDefault()?.Text);
        return new ChangedShop(shop, owner, booked.Value);
    }

    private static async Task<TestShop> StockedAsync()
    {
        var shop = await TestShop.EmptyAsync();
        var stocked = await shop.Get<CommandRunner>()
            .RunAsync(
                "Stock",
                Allowed.System,
                Commands.Asked.BySystem(),
                new Nothing(),
                work => DemoStock.AddToAsync(work, new() { Name = "Test" }, new DemoHours(work.Now, TimeZoneInfo.Utc), default)
            );
        Assert.True(stocked.IsOk);
        return shop;
    }

    /// <summary>Plates with texts.</summary>
    public static OrderInput Plates(int count, params string[] texts) => Plates(count, own: false, texts);

    /// <summary>Plates with texts, of the workshop's own or the customer's.</summary>
    public static OrderInput Plates(int count, bool own, params string[] texts)
    {
        var order = ShopOrders.Plates(count, own);
        return order with { Lines = [order.Lines[0] with { Texts = texts }] };
    }

    public Asked Asked() => Commands.Asked.By(Owner);

    public T Get<T>()
        where T : notnull => Shop.Get<T>();

    public async Task<OrderDetail> DetailAsync() => (await Get<OrderDetailView>().LoadAsync(Booked.Number))!;

    public async Task<Order> OrderAsync()
    {
        await using var context = await Shop.ContextAsync();
        return await context.Orders.AsNoTracking().SingleAsync(o => o.Id == Booked.Order);
    }

    public async Task<List<Piece>> PiecesAsync()
    {
        await using var context = await Shop.ContextAsync();
        return await context.Pieces.AsNoTracking().Where(p => p.Order == Booked.Order).OrderBy(p => p.Number).ToListAsync();
    }

    public async Task<List<AuditEntry>> AuditAsync()
    {
        await using var context = await Shop.ContextAsync();
        var subject = $"order {Booked.Number}";
        return await context.Audit.AsNoTracking().Where(a => a.Subject == subject).OrderBy(a => a.At).ToListAsync();
    }

    /// <summary>What another number would mean.</summary>
    public async Task<Result<QuantityQuote>> ViewAsync(int to, int line = 1, params string[] texts) =>
        await Get<QuantityView>().LoadAsync(new QuantityInput(Booked.Order, (await DetailAsync()).Version, line, to, texts));

    /// <summary>The same where it may be.</summary>
    public async Task<QuantityQuote> LookAsync(int to)
    {
        var quote = await ViewAsync(to);
        Assert.True(quote.IsOk, quote.Refusals.FirstOrDefault()?.Text);
        return quote.Value;
    }

    /// <summary>Looks and confirms.</summary>
    public async Task ChangeAsync(int to)
    {
        var done = await Get<ChangeQuantity>().RunAsync(Asked(), (await LookAsync(to)).Input);
        Assert.True(done.IsOk, done.Refusals.FirstOrDefault()?.Text);
    }

    /// <summary>Changes the order behind everybody's back.</summary>
    public async Task WriteAsync(Action<Order> change)
    {
        await using var context = await Shop.ContextAsync();
        change(await context.Orders.SingleAsync(o => o.Id == Booked.Order));
        await context.SaveChangesAsync();
    }

    public ValueTask DisposeAsync() => Shop.DisposeAsync();
}

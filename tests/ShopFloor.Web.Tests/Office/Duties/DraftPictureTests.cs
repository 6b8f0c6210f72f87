using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Clerk;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Office.Duties;
using ShopFloor.Web.Tests.Office.Invoices;

namespace ShopFloor.Web.Tests.Office.Duties;

/// <summary>Pictures of an order that somebody is about to repeat.</summary>
public sealed class DraftPictureTests
{
    [Fact]
    public async Task Clear_WhileTheOrderIsBeingRepeated_LeavesItsPicture()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var (order, picture) = await OverAsync(shop);
        shop.Shop.Clock.Advance(TimeSpan.FromDays(800));
        await RepeatAsync(shop, order);

        Assert.True((await shop.Shop.Get<ClearOldData>().RunAsync()).IsOk);

        Assert.True(shop.Shop.Get<PictureFolder>().Has(picture));
        await using var context = await shop.Shop.ContextAsync();
        Assert.True(await context.Pictures.AnyAsync(p => p.Id == picture));
        Assert.All((await context.Orders.AsNoTracking().SingleAsync(o => o.Id == order)).Lines, l => Assert.Null(l.Picture));
    }

    [Fact]
    public async Task Erase_WhileAnOrderIsBeingRepeated_TakesTheEntryAndItsPictureToo()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var (order, picture) = await OverAsync(shop);
        await RepeatAsync(shop, order);
        List<Order> showing;
        await using (var before = await shop.Shop.ContextAsync())
            showing = (await before.Orders.AsNoTracking().ToListAsync()).FindAll(o => o.Lines.Any(l => l.Picture == picture));
        var customer = showing.Single(o => o.Id == order).Customer;

        // The invented orders share a few pictures: those who showed it too go first, and it stays for the last.
        foreach (var other in showing.Select(o => o.Customer).Where(c => c != customer).Distinct())
            await EraseAsync(shop, other);
        Assert.True(shop.Shop.Get<PictureFolder>().Has(picture));
        await EraseAsync(shop, customer);

        Assert.False(shop.Shop.Get<PictureFolder>().Has(picture));
        await using var context = await shop.Shop.ContextAsync();
        Assert.Empty(await context.Drafts.Where(d => d.BecameOrder == null).ToListAsync());
    }

    private static async Task EraseAsync(InvoicingShop shop, CustomerId customer)
    {
        var erased = await shop.Shop.Get<EraseCustomer>().RunAsync(Asked.BySystem(), new EraseInput(customer));
        Assert.True(erased.IsOk, string.Join("; ", erased.Refusals.Select(r => r.Text)));
    }

    /// <summary>An order with a picture, all of which is with the customer.</summary>
    private static async Task<(OrderId Order, PictureId Picture)> OverAsync(InvoicingShop shop)
    {
        await using var context = await shop.Shop.ContextAsync();
        var orders = await context
            .Orders.AsNoTracking()
            .Where(o => !context.Pieces.Any(p => p.Order == o.Id && p.State != PieceState.HandedOver))
            .OrderBy(o => o.Number)
            .ToListAsync();
        var order = orders.First(o => o.Lines.Any(l => l.Picture is not null));
        return (order.Id, order.Lines.Select(l => l.Picture).OfType<PictureId>().First());
    }

    private static async Task RepeatAsync(InvoicingShop shop, OrderId order)
    {
        var clerk = await shop.Shop.WorkerAsync(WorkerRole.Owner);
        Assert.True((await shop.Shop.Get<RepeatOrder>().RunAsync(clerk, order)).IsOk);
    }
}

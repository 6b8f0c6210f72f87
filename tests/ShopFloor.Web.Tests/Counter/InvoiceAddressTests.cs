using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Office.Workshop;
using ShopFloor.Web.Tests.Office.Invoices;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Counter;

/// <summary>In Germany an invoice of more than 250 EUR needs the customer's address: it is said while the customer is still there.</summary>
public sealed class InvoiceAddressTests
{
    [Theory]
    [InlineData(251, "DE", true)]
    [InlineData(250, "DE", false)]
    [InlineData(251, "FR", false)]
    public async Task Quote_OfALargeSumWithoutAddress_SaysSo(int price, string country, bool expected)
    {
        await using var shop = await ShopOrders.DemoAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var profile = (await shop.Get<SettingsView>().LoadAsync()).Profile with { Country = country };
        Assert.True((await shop.Get<ChangeProfile>().RunAsync(Asked.By(owner), profile)).IsOk);
        var order = ShopOrders.Plates(1);
        order = order with { Lines = [order.Lines[0] with { PriceByHand = price, PriceReason = "agreed" }] };

        var quote = await shop.Get<QuoteOrder>().RunAsync(order);

        Assert.Equal((price, expected ? 250m : null), (quote.Gross!.Value, quote.AddressAbove));
    }

    [Fact]
    public async Task Quote_OfACustomerWithAnAddress_SaysNothing()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var customer = new CustomerId(Guid.CreateVersion7());
        await using (var context = await shop.ContextAsync())
        {
            var made = Customer.Create(customer, new Contact("Ida", "ida@example.org", ""), shop.Clock.GetUtcNow(), null, "").Value;
            Assert.True(made.Change(made.Contact, "", new Address("Lane 1", "12345", "Moorstedt", "DE"), "", "").IsOk);
            context.Customers.Add(made);
            await context.SaveChangesAsync();
        }
        var order = ShopOrders.Plates(1) with { Customer = customer };
        order = order with { Lines = [order.Lines[0] with { PriceByHand = 300, PriceReason = "agreed" }] };
        Assert.Null((await shop.Get<QuoteOrder>().RunAsync(order)).AddressAbove);
    }

    [Theory]
    [InlineData(300, true)]
    [InlineData(200, false)]
    public async Task Draft_OfALargeInvoiceWithoutAddress_NamesTheCustomer(int price, bool expected)
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = ShopOrders.Plates(1);
        order = order with { Lines = [order.Lines[0] with { PriceByHand = price, PriceReason = "agreed" }] };
        var booked = await shop.Shop.Get<BookOrder>().RunAsync(shop.Asked(), await shop.Shop.ShownAsync(order));
        var draft = await shop.Shop.Get<InvoiceDraftView>().LoadAsync(new IssueInput(booked.Value.Order, price));
        Assert.True(draft.IsOk, draft.IsOk ? "" : draft.Refusals[0].Text);
        Assert.Equal(expected, draft.Value.LacksAddress is not null);
    }
}

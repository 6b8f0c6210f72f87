using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Pricing;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Office.Customers;
using ShopFloor.Web.Office.Prices;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office;

/// <summary>The owner keeps customers: their address for invoices and the group that prices them.</summary>
public sealed class CustomerTests
{
    private static async Task<CustomerDetail> SomebodyAsync(TestShop shop)
    {
        var row = (await shop.Get<CustomerView>().LoadAsync(null, 1)).Rows.First(r => r.Orders > 0 && r.Group.Length == 0);
        return (await shop.Get<CustomerView>().FindAsync(row.Id.Value))!;
    }

    [Fact]
    public async Task Change_PutIntoAGroup_IsQuotedWithItsDiscountAndWrittenDown()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var now = await shop.Get<SettingsView>().LoadAsync();
        var rule = now.Rule with { GroupDiscounts = [new GroupDiscount("club", "Boat club", 10)] };
        Assert.True((await shop.Get<ChangePrices>().RunAsync(Asked.By(owner), new PricesInput(now.Rates, rule, now.Inputs))).IsOk);
        var customer = await SomebodyAsync(shop);
        var group = Assert.Single(customer.Groups);
        var order = ShopOrders.Plates(2) with { Customer = customer.Id };
        var before = await shop.Get<QuoteOrder>().RunAsync(order);

        var form = new CustomerForm(customer)
        {
            Group = group.Group,
            Street = "Torfweg 9",
            City = "Moorstedt",
        };
        Assert.True((await shop.Get<ChangeCustomer>().RunAsync(Asked.By(owner), form.Read().Value)).IsOk);

        var after = await shop.Get<QuoteOrder>().RunAsync(order);
        Assert.True(after.Gross < before.Gross);
        Assert.Contains(after.Lines[0].Price!.Parts, p => p.Code == "group");
        await using var context = await shop.ContextAsync();
        Assert.Equal("Torfweg 9", (await context.Customers.SingleAsync(c => c.Id == customer.Id)).Address?.Street);
        Assert.Equal(group.Group, (await context.Audit.SingleAsync(a => a.What == "customer group changed")).After);
    }

    [Fact]
    public async Task Change_HalfAnAddressOrAnUnknownGroup_IsNamedAtItsField()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var customer = await SomebodyAsync(shop);
        var half = new CustomerForm(customer)
        {
            Street = "Torfweg 9",
            City = " ",
            Country = "Nowhere",
        };
        Assert.Equal(["city", "country"], half.Read().Refusals.Select(r => r.Field).Order());

        var alone = new CustomerForm(customer)
        {
            Street = "",
            City = "",
            Postcode = "",
            Country = "AT",
        };
        Assert.Equal("street", Assert.Single(alone.Read().Refusals).Field);
        foreach (var id in new[] { "FOO", "ATU1", "XX12345678" })
        {
            var named = new CustomerForm(customer) { VatId = id };
            Assert.Equal(
                "vatId",
                Assert.Single((await shop.Get<ChangeCustomer>().RunAsync(Asked.By(owner), named.Read().Value)).Refusals).Field
            );
        }

        var unknown = new CustomerForm(customer) { Group = "nobody" };
        var done = await shop.Get<ChangeCustomer>().RunAsync(Asked.By(owner), unknown.Read().Value);
        Assert.Equal("group", Assert.Single(done.Refusals).Field);
    }
}

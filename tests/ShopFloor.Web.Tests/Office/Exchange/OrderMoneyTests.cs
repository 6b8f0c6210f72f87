using System.Globalization;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Office.Exchange;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Tests.Office.Invoices;

namespace ShopFloor.Web.Tests.Office.Exchange;

/// <summary>The orders' file says the sum that is invoiced, and taken in it makes that sum again.</summary>
public sealed class OrderMoneyTests
{
    private const string Head =
        "order,customer,promised,material,finish,quantity,width_mm,height_mm,thickness_mm,nothing_hidden,unit_price,discount,charges,total\n";

    [Fact]
    public async Task Total_OfAnOrderWithDiscountAndShipping_IsWhatIsInvoiced()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await shop.OrderAsync();
        Assert.True((await shop.Shop.Get<DiscountOrder>().RunAsync(shop.Asked(), new(order, new(12.5m, true, "Second order")))).IsOk);
        Assert.True((await shop.Shop.Get<ChargeOrder>().RunAsync(shop.Asked(), new(order, "Shipping", 5.90m))).IsOk);
        var file = await shop.Shop.Get<EverythingOut>().FileAsync(ImportKind.Orders, default);
        var row = await RowAsync(shop, order, file);
        var draft = await shop.Shop.Get<InvoiceDraftView>().LoadAsync(new IssueInput(order));
        Assert.Equal(draft.Value.Payable, decimal.Parse(row["total"], CultureInfo.InvariantCulture));
        Assert.Equal("Shipping=5.90", row["charges"]);
        Assert.True(decimal.Parse(row["discount"], CultureInfo.InvariantCulture) > 0);
    }

    [Fact]
    public async Task Total_TakenIn_IsTheOrdersPriceOrAFault()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        await ImportAsync(shop, ImportKind.Customers, "external_id,name,email,country,city\nc1,Ida,ida@example.org,DE,Moorstedt\n");
        const string Plate = ",c1,2026-03-20,al,white ground,3,100,60,1,yes,12.50,";
        var report = await ImportAsync(
            shop,
            ImportKind.Orders,
            Head
                + string.Join(
                    '\n',
                    $"w1{Plate}2.49,Shipping=5.90|Wrapping = 2,42.91",
                    $"w1{Plate},,",
                    $"w2{Plate}2.49,,35",
                    $"w3{Plate}40,,",
                    $"w4{Plate},Shipping,",
                    $"w5{Plate}0.001,,",
                    $"w6{Plate}1.250,,",
                    $"w7{Plate},Shipping=1.250|Wrapping=2,"
                )
        );
        Assert.Equal(
            [(2, "total"), (4, "total"), (5, "discount"), (6, "charges"), (7, "discount"), (8, "discount"), (9, "charges")],
            report.Faults.Select(f => (f.Row, f.Column))
        );
        report = await ImportAsync(shop, ImportKind.Orders, Head + $"w1{Plate}2.49,Shipping=5.90|Wrapping = 2,80.41\nw1{Plate},,");
        Assert.Equal((1, 0), (report.New, report.BadRows));
        await using var context = await shop.Shop.ContextAsync();
        var order = await context.Orders.AsNoTracking().SingleAsync(o => o.ExternalId == "w1");
        Assert.Equal(75m - 2.49m, order.Gross);
        Assert.Equal([("Shipping", 5.90m), ("Wrapping", 2m)], order.Charges.Select(c => (c.Name, c.Amount)));
    }

    [Theory]
    [InlineData("2.5")]
    [InlineData("0")]
    [InlineData("99999999999")]
    public async Task Quantity_ThatIsNoNumberOfPieces_IsAFaultOfItsRow(string quantity)
    {
        await using var shop = await InvoicingShop.OpenAsync();
        await ImportAsync(shop, ImportKind.Customers, "external_id,name,email,country,city\nc1,Ida,ida@example.org,DE,Moorstedt\n");
        var report = await ImportAsync(
            shop,
            ImportKind.Orders,
            Head + $"w1,c1,2026-03-20,al,white ground,{quantity},100,60,1,yes,12.50,,,\n"
        );
        Assert.Equal((2, "quantity"), Assert.Single(report.Faults.Select(f => (f.Row, f.Column)).Distinct()));
        Assert.Equal(0, report.New);
    }

    private static async Task<ImportReport> ImportAsync(InvoicingShop shop, ImportKind kind, string text)
    {
        var done = await shop.Shop.Get<ImportRows>().RunAsync(shop.Asked(), new ImportInput(kind, text, true));
        Assert.True(done.IsOk, string.Join("; ", done.Refusals.Select(r => r.Text)));
        return done.Value;
    }

    private static async Task<Dictionary<string, string>> RowAsync(InvoicingShop shop, OrderId id, string file)
    {
        await using var context = await shop.Shop.ContextAsync();
        var order = await context.Orders.AsNoTracking().SingleAsync(o => o.Id == id);
        var lines = file.TrimStart('\uFEFF').Split("\r\n");
        var name = order.ExternalId.Length > 0 ? order.ExternalId : id.Value.ToString("N");
        var row = lines.First(l => l.StartsWith(name, StringComparison.Ordinal)).Split(',');
        return lines[0].Split(',').Zip(row).ToDictionary(c => c.First, c => c.Second, StringComparer.Ordinal);
    }
}

using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Documents.Tests.EInvoice;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Tests.Support;
using Xunit.Abstractions;

namespace ShopFloor.Web.Tests.Office.Invoices;

/// <summary>The demo workshop with an owner, and an order that has finished pieces and no invoice.</summary>
internal sealed class InvoicingShop : IAsyncDisposable
{
    private InvoicingShop(TestShop shop, Guid owner) => (Shop, Owner) = (shop, owner);

    public TestShop Shop { get; }

    public Guid Owner { get; }

    public DateOnly Today => DateOnly.FromDateTime(Shop.Clock.GetUtcNow().UtcDateTime);

    public static async Task<InvoicingShop> OpenAsync()
    {
        var shop = await TestShop.DemoAsync();
        return new InvoicingShop(shop, await shop.WorkerAsync(WorkerRole.Owner));
    }

    public Asked Asked() => Commands.Asked.By(Owner);

    /// <summary>An order with pieces that are ready: all of them, or only some.</summary>
    public async Task<OrderId> OrderAsync(bool whole = true)
    {
        await using var context = await Shop.ContextAsync();
        var orders = await context.Orders.AsNoTracking().OrderBy(o => o.Number).ToListAsync();
        var pieces = await context.Pieces.AsNoTracking().ToListAsync();
        var invoiced = await context.Documents.Select(d => d.Order).ToListAsync();
        static bool IsReady(Piece p) => p.State is PieceState.CheckedGood or PieceState.HandedOver;
        return orders
            .First(o =>
            {
                var own = pieces.Where(p => p.Order == o.Id).ToList();
                return !invoiced.Contains(o.Id) && own.Exists(IsReady) && own.TrueForAll(IsReady) == whole;
            })
            .Id;
    }

    public async Task<DocumentIssued> InvoiceAsync(OrderId order)
    {
        var issued = await Shop.Get<IssueInvoice>().RunAsync(Asked(), new IssueInput(order));
        Assert.True(issued.IsOk, string.Join("; ", issued.Refusals.Select(r => $"{r.Code} {r.Text}")));
        return issued.Value;
    }

    public async Task<decimal> GrossAsync(OrderId order)
    {
        await using var context = await Shop.ContextAsync();
        return (await context.Orders.AsNoTracking().FirstAsync(o => o.Id == order)).Gross;
    }

    public async Task<InvoiceDetail> DetailAsync(string number) => (await Shop.Get<InvoiceView>().LoadAsync(number))!;

    /// <summary>Runs the official rules on all e-invoices of the shop.</summary>
    public async Task ValidateAsync(int count, ITestOutputHelper output)
    {
        await using var context = await Shop.ContextAsync();
        List<IssuedDocument> documents = await context.Documents.AsNoTracking().Where(d => d.Xml != "").ToListAsync();
        Assert.Equal(count, documents.Count);
        var folder = Directory.CreateDirectory(Path.Combine(Shop.Folder, "xml")).FullName;
        foreach (var document in documents)
            await File.WriteAllTextAsync(Path.Combine(folder, document.Number + ".xml"), document.Xml);
        if (OutsideValidator.Find() is not { } validator)
        {
            output.WriteLine("The outside validator is not there: the official rules were not run on these documents.");
            return;
        }
        var (code, said) = validator.Run(folder, Directory.CreateDirectory(Path.Combine(Shop.Folder, "classes")).FullName);
        Assert.True(code == 0, said);
    }

    public ValueTask DisposeAsync() => Shop.DisposeAsync();
}

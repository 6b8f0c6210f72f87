using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Web.Office.Invoices;

namespace ShopFloor.Web.Office.Duties;

/// <summary>Invoices whose time is over: numbers and sums stay for the books, the name and the papers go.</summary>
internal static class ErasedDocuments
{
    private const string Nobody = "Erased";

    public static async Task EraseAsync(ShopContext context, CustomerId customer, CancellationToken cancel)
    {
        var documents = await (
            from d in context.Documents
            join o in context.Orders on d.Order equals o.Id
            where o.Customer == customer
            select d
        ).ToListAsync(cancel);
        foreach (var document in documents)
        {
            var json = document.Kind == Reminders.Kind ? document.Json : WithoutBuyer(document.Json);
            document.Erase(Nobody, json, KeepDocument.Hash(json, "", []));
        }
        var orders = await context.Orders.Where(o => o.Customer == customer).Select(o => o.Id).ToListAsync(cancel);
        await ForgetPaymentsAsync(context, orders, cancel);
    }

    /// <summary>What the bank or the payer wrote goes with the name.</summary>
    public static async Task ForgetPaymentsAsync(ShopContext context, IReadOnlyList<OrderId> orders, CancellationToken cancel)
    {
        foreach (
            var payment in await context
                .Payments.Where(p => p.Order != null && orders.Contains(p.Order.Value) && p.Note != "")
                .ToListAsync(cancel)
        )
            payment.Forget();
    }

    private static string WithoutBuyer(string json)
    {
        var issued = OrderAccount.Read(json);
        var buyer = issued.Content.Buyer is { } known
            ? new Party(Nobody, new PostalAddress(null, null, null, null, null, known.Address.Country))
            : null;
        return JsonSerializer.Serialize(issued with { Content = issued.Content with { Buyer = buyer, Note = null } }, JsonForms.Default);
    }
}

using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>Of which documents it is asked what is left to pay.</summary>
internal sealed record BalanceScope
{
    /// <summary>Number of an order; null: of all.</summary>
    public int? Order { get; init; }

    /// <summary>Only of these documents; null: of all.</summary>
    public IReadOnlyCollection<Guid>? Only { get; init; }

    /// <summary>A customer; null: of all.</summary>
    public CustomerId? Customer { get; init; }

    /// <summary>Due before that day; null: whenever.</summary>
    public DateOnly? DueBefore { get; init; }

    /// <summary>Only invoices that are not settled to the cent: what was paid for a reminder's fee beside the invoice may still be in it.</summary>
    public bool OpenOnly { get; init; }
}

/// <summary>What is left to pay on documents, summed by the database.</summary>
internal static class InvoiceBalances
{
    /// <summary>No currency has a smaller part, and it is far above what is lost in a sum of binary fractions.</summary>
    internal const double Least = 0.000_1;

    private static readonly string Note = InvoiceTerms.Word(DocumentKind.CreditNote);

    private sealed record Summed(
        Guid Id,
        string Kind,
        string Number,
        OrderId Order,
        int OrderNumber,
        string Customer,
        DateOnly Day,
        DateOnly? Due,
        decimal Total,
        string Currency,
        DateTimeOffset At,
        decimal Settled
    );

    /// <summary>The documents with what is left to pay, without their papers.</summary>
    internal static async Task<IReadOnlyList<InvoiceRow>> LoadAsync(ShopContext context, BalanceScope scope, CancellationToken cancel)
    {
        var documents = await Sums(context, scope).ToListAsync(cancel);
        var extras = await ExtrasAsync(context, scope, documents, cancel);
        return [.. documents.Select(d => Row(d, extras.GetValueOrDefault(d.Id)))];
    }

    private static InvoiceRow Row(Summed d, decimal asked)
    {
        var balance = d.Kind == Reminders.Kind || d.Kind == Note ? 0m : d.Total - d.Settled;
        var left = OpenItem.Left(balance, asked);
        return new InvoiceRow(d.Id, d.Kind, d.Number, d.OrderNumber, d.Customer, d.Day, d.Due, d.Total, left, d.Currency)
        {
            Extras = Math.Clamp(balance + asked, 0m, asked),
            At = d.At,
        };
    }

    private static IQueryable<Summed> Sums(ShopContext context, BalanceScope scope)
    {
        var documents = scope.OpenOnly ? Open(context) : context.Documents.AsNoTracking();
        if (scope.DueBefore is { } day)
            documents = documents.Where(d => d.Due < day);
        if (scope.Only is { } only)
            documents = documents.Where(d => only.Contains(d.Id));
        var orders = context.Orders.AsNoTracking();
        if (scope.Order is { } number)
            orders = orders.Where(o => o.Number == number);
        if (scope.Customer is { } customer)
            orders = orders.Where(o => o.Customer == customer);
        return from d in documents
            join o in orders on d.Order equals o.Id
            select new Summed(
                d.Id,
                d.Kind,
                d.Number,
                d.Order,
                o.Number,
                d.CustomerName,
                d.Day,
                d.Due,
                d.Total,
                d.Currency,
                d.At,
                context.Payments.Where(p => p.Document == d.Id).Sum(p => p.Amount)
                    + context.Documents.Where(c => c.Order == d.Order && c.Corrects == d.Id && c.Kind != Reminders.Kind).Sum(c => c.Total)
            );
    }

    /// <summary>Invoices whose payments and credit notes do not come to their total. A credit note is of the same order, whose index finds it.</summary>
    private static IQueryable<IssuedDocument> Open(ShopContext context) =>
        context
            .Documents.AsNoTracking()
            .Where(d => d.Kind != Reminders.Kind && d.Kind != Note)
            .Where(d =>
                Math.Abs(
                    (double)d.Total
                        - context.Payments.Where(p => p.Document == d.Id).Sum(p => (double)p.Amount)
                        - context
                            .Documents.Where(c => c.Order == d.Order && c.Corrects == d.Id && c.Kind != Reminders.Kind)
                            .Sum(c => (double)c.Total)
                ) > Least
            );

    /// <summary>Fee and interest that the last reminder of an invoice asks for.</summary>
    private static async Task<Dictionary<Guid, decimal>> ExtrasAsync(
        ShopContext context,
        BalanceScope scope,
        IReadOnlyList<Summed> documents,
        CancellationToken cancel
    )
    {
        var letters = context.Documents.AsNoTracking().Where(d => d.Kind == Reminders.Kind && d.Corrects != null);
        if (scope != new BalanceScope())
        {
            var orders = documents.Select(d => d.Order).Distinct().ToList();
            letters = letters.Where(d => orders.Contains(d.Order));
        }
        var sent = await letters
            .Select(d => new
            {
                Invoice = d.Corrects!.Value,
                d.Day,
                d.Json,
            })
            .ToListAsync(cancel);
        return sent.GroupBy(d => d.Invoice, d => Reminders.Read(d.Json, d.Day)).ToDictionary(g => g.Key, g => OpenItem.ExtrasOf([.. g]));
    }
}

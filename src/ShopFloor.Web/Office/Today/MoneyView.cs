using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Invoices;

namespace ShopFloor.Web.Office.Today;

/// <summary>An order of which pieces went out that stand on no invoice and no receipt.</summary>
/// <param name="Pieces">How many.</param>
/// <param name="Amount">What the next invoice would come to; null: it is not worked out, or cannot be issued as things are.</param>
public sealed record ToInvoiceRow(int Number, string Customer, int Pieces, decimal? Amount, string Currency);

/// <summary>Money that belongs to a customer.</summary>
/// <param name="Name">The order, or the invoice on which too much came in.</param>
/// <param name="IsOff">True: the order was called off.</param>
public sealed record ToPayBackRow(string Name, string Href, string Customer, decimal Amount, string Currency, bool IsOff);

/// <summary>What is to be invoiced and to be paid back.</summary>
public sealed record MoneySheet(IReadOnlyList<ToInvoiceRow> ToInvoice, IReadOnlyList<ToPayBackRow> ToPayBack);

/// <summary>Finds what went out without an invoice, and what customers are owed.</summary>
public sealed class MoneyView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>What went out so long ago and has some paper is looked at no more: many papers would be read for little (common practice, no source).</summary>
    private static readonly TimeSpan Looked = TimeSpan.FromDays(90);

    private sealed record Out(OrderId Order, OrderLineId Line, int Count, DateTimeOffset Last);

    /// <summary>Both lists; what went out first comes first.</summary>
    public async Task<MoneySheet> LoadAsync(CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        return new MoneySheet(await ToInvoiceAsync(context, cancel), await ToPayBackAsync(context, cancel));
    }

    private async Task<IReadOnlyList<ToInvoiceRow>> ToInvoiceAsync(ShopContext context, CancellationToken cancel)
    {
        var ids = await OutAsync(context, cancel);
        var handed = await context
            .Pieces.AsNoTracking()
            .Where(p => !p.IsTest && p.State == PieceState.HandedOver && ids.Contains(p.Order))
            .IgnoreAutoIncludes()
            .Select(p => new
            {
                p.Order,
                p.Line,
                p.ChangedAt,
            })
            .ToListAsync(cancel);
        var lines = handed
            .GroupBy(p => (p.Order, p.Line))
            .Select(g => new Out(g.Key.Order, g.Key.Line, g.Count(), g.Max(p => p.ChangedAt)))
            .ToLookup(o => o.Order);
        var issued = await IssuedAsync(context, ids, cancel);
        var orders = await context.Orders.AsNoTracking().Where(o => ids.Contains(o.Id)).ToListAsync(cancel);
        var open = orders
            .Select(o => (Order: o, Pieces: Open(o, lines[o.Id], [.. issued[o.Id]])))
            .Where(x => x.Pieces > 0)
            .OrderBy(x => lines[x.Order.Id].Max(l => l.Last))
            .ThenBy(x => x.Order.Number)
            .ToList();
        var rows = new List<ToInvoiceRow>();
        foreach (var (order, pieces) in open)
        {
            var amount = rows.Count < TodayView.Most ? await AmountAsync(context, order.Id, cancel) : null;
            rows.Add(new ToInvoiceRow(order.Number, order.Contact.Name, pieces, amount, order.Currency));
        }
        return rows;
    }

    /// <summary>Orders that may have to be invoiced. An invoice that nobody has taken back covers all that was ready, and all of an order that
    /// was called off.</summary>
    private async Task<IReadOnlyList<OrderId>> OutAsync(ShopContext context, CancellationToken cancel)
    {
        var since = time.GetUtcNow() - Looked;
        var (whole, note) = (InvoiceTerms.Word(DocumentKind.Invoice), InvoiceTerms.Word(DocumentKind.CreditNote));
        return await context
            .Pieces.AsNoTracking()
            .Where(p => !p.IsTest && p.State == PieceState.HandedOver)
            .Where(p => p.ChangedAt > since || !context.Documents.Any(d => d.Order == p.Order && d.Kind != Reminders.Kind))
            .Where(p =>
                !context.Documents.Any(d =>
                    d.Order == p.Order && d.Kind == whole && !context.Documents.Any(c => c.Kind == note && c.Corrects == d.Id)
                )
            )
            .Select(p => p.Order)
            .Distinct()
            .ToListAsync(cancel);
    }

    private static async Task<ILookup<OrderId, (Guid Id, IssuedInvoice Document)>> IssuedAsync(
        ShopContext context,
        IReadOnlyList<OrderId> ids,
        CancellationToken cancel
    )
    {
        var rows = await context
            .Documents.AsNoTracking()
            .Where(d => d.Kind != Reminders.Kind && ids.Contains(d.Order))
            .Select(d => new
            {
                d.Order,
                d.Id,
                d.Json,
            })
            .ToListAsync(cancel);
        return rows.ToLookup(d => d.Order, d => (d.Id, OrderAccount.Read(d.Json)));
    }

    private static int Open(Domain.Orders.Order order, IEnumerable<Out> lines, List<(Guid Id, IssuedInvoice Document)> issued) =>
        lines.Sum(o =>
        {
            var line = order.Lines.First(l => l.Id == o.Line);
            return (int)Math.Max(0m, Math.Min(o.Count, line.Quantity) - OrderAccount.Invoiced(issued, OrderAccount.LineId(line)));
        });

    private async Task<decimal?> AmountAsync(ShopContext context, OrderId id, CancellationToken cancel)
    {
        var now = time.GetUtcNow();
        if (await OrderAccount.LoadAsync(context, id, now, cancel) is not { } account)
            return null;
        var draft = InvoiceDrafts.Pieces(account, account.Settings.Day(now), new InvoiceWish());
        return draft.IsOk ? draft.Value.Totals().Payable : null;
    }

    private async Task<IReadOnlyList<ToPayBackRow>> ToPayBackAsync(ShopContext context, CancellationToken cancel)
    {
        var off = await context
            .Orders.AsNoTracking()
            .Where(o => o.CancelledAt != null && context.Payments.Any(p => p.Order == o.Id))
            .OrderBy(o => o.Number)
            .Select(o => o.Id)
            .ToListAsync(cancel);
        var rows = new List<ToPayBackRow>();
        var known = new HashSet<int>();
        foreach (var id in off)
            if (await OrderAccount.LoadAsync(context, id, time.GetUtcNow(), cancel) is { ToGoBack: > 0m } account)
            {
                var order = account.Order;
                var number = order.Number.ToString(CultureInfo.InvariantCulture);
                rows.Add(new(number, $"office/orders/{number}", order.Contact.Name, account.ToGoBack, order.Currency, IsOff: true));
                known.Add(order.Number);
            }
        var over = (await InvoiceListView.BalancesAsync(context, null, cancel)).Where(r =>
            r.Outstanding < 0m && !known.Contains(r.OrderNumber)
        );
        rows.AddRange(
            over.Select(r => new ToPayBackRow(
                r.Number,
                $"office/invoices/{r.Number}",
                r.Customer,
                -r.Outstanding,
                r.Currency,
                IsOff: false
            ))
        );
        return rows;
    }
}

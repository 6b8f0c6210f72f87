using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Today;

/// <summary>An order of which pieces went out that stand on no invoice and no receipt.</summary>
/// <param name="Pieces">How many.</param>
/// <param name="Amount">What the next invoice would come to; null: it cannot be issued as things are.</param>
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

    /// <summary>Both lists; what went out first comes first.</summary>
    public async Task<MoneySheet> LoadAsync(CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        return new MoneySheet(await ToInvoiceAsync(context, cancel), [.. await ToPayBackAsync(context, cancel), .. await LeftOnAccountAsync(context, cancel)]);
    }

    private async Task<IReadOnlyList<ToInvoiceRow>> ToInvoiceAsync(ShopContext context, CancellationToken cancel)
    {
        var settings = await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel);
        var accounts = await OrderAccount.LoadAsync(context, await OutAsync(context, cancel), settings, cancel);
        var rows = new List<ToInvoiceRow>();
        foreach (var account in accounts.Where(a => Out(a) > 0).OrderBy(LastOut).ThenBy(a => a.Order.Number))
        {
            var (order, draft) = (account.Order, InvoiceDrafts.Pieces(account, settings.Day(time.GetUtcNow()), new InvoiceWish()));
            if (draft.IsOk && IsNothing(draft.Value))
                continue;
            decimal? amount = draft.IsOk ? draft.Value.Totals().Payable : null;
            rows.Add(new ToInvoiceRow(order.Number, order.Contact.Name, Out(account), amount, order.Currency));
        }
        return rows;
    }

    /// <summary>Pieces that went out and are open: what was paid back is asked for no more.</summary>
    private static int Out(OrderAccount account) =>
        (int)account.Lines.Sum(l => Math.Min(l.Open, Math.Max(0m, l.SuppliedOn.Count - l.Invoiced)));

    private static DateOnly LastOut(OrderAccount account) => account.Lines.SelectMany(l => l.SuppliedOn).Max();

    // A remake, or what is given away: nobody waits for a paper about nothing. What a deposit covers still needs its final invoice.
    private static bool IsNothing(InvoiceDraft draft) => draft.Totals().Payable == 0m && !draft.Lines.Any(Deposits.IsDeduction);

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

    /// <summary>Money on account of an order that has nothing left to invoice: no invoice takes it off any more.</summary>
    private async Task<IReadOnlyList<ToPayBackRow>> LeftOnAccountAsync(ShopContext context, CancellationToken cancel)
    {
        var moves = await context
            .Payments.AsNoTracking()
            .Where(p => p.Document == null && p.Order != null && context.Orders.Any(o => o.Id == p.Order && o.CancelledAt == null))
            .Select(p => new { Order = p.Order!.Value, p.Amount })
            .ToListAsync(cancel);
        var ids = moves.GroupBy(p => p.Order).Where(g => g.Sum(p => p.Amount) > 0m).Select(g => g.Key).ToList();
        var settings = await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel);
        return
        [
            .. from account in await OrderAccount.LoadAsync(context, ids, settings, cancel)
            where account is { HasToInvoice: false, OnAccount: > 0m, LeftToPay: < 0m }
            orderby account.Order.Number
            let order = account.Order
            let number = order.Number.ToString(CultureInfo.InvariantCulture)
            let sum = Math.Min(account.OnAccount, -account.LeftToPay)
            select new ToPayBackRow(number, $"office/orders/{number}", order.Contact.Name, sum, order.Currency, IsOff: false),
        ];
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

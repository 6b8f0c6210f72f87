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
public sealed record ToPayBackRow(string Name, string Href, string Customer, decimal Amount, string Currency, bool IsOff)
{
    /// <summary>True: a deposit that no invoice will take off any more; its invoice is taken back first.</summary>
    public bool IsStranded { get; init; }
}

/// <summary>What is to be invoiced, to be paid back and overdue.</summary>
/// <param name="Overdue">Invoices past their due day, the oldest due first.</param>
/// <param name="ByPost">Those of them whose reminder no mail can carry: somebody makes it and posts it.</param>
public sealed record MoneySheet(
    IReadOnlyList<ToInvoiceRow> ToInvoice,
    IReadOnlyList<ToPayBackRow> ToPayBack,
    IReadOnlyList<InvoiceRow> Overdue,
    IReadOnlyList<InvoiceRow> ByPost
);

/// <summary>Finds what went out without an invoice, what customers are owed, and what they owe. It is read when money or an order changes, not with
/// each step at the Bench.</summary>
public sealed class MoneyView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>What went out so long ago and has some paper is looked at no more: many papers would be read for little (common practice, no source).</summary>
    private static readonly TimeSpan Looked = TimeSpan.FromDays(90);

    private sealed record At(ShopContext Context, CurrentSettings Settings, DateOnly Today);

    /// <summary>All lists; what went out first comes first.</summary>
    public async Task<MoneySheet> LoadAsync(CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var settings = await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel);
        var at = new At(context, settings, settings.Day(time.GetUtcNow()));
        var open = await InvoiceBalances.LoadAsync(context, new() { OpenOnly = true }, cancel);
        var late = open.Where(r => r.Outstanding > 0m && r.Due < at.Today);
        return new MoneySheet(
            await ToInvoiceAsync(at, cancel),
            [.. await ToPayBackAsync(at, open, cancel), .. await StrandedAsync(at, cancel), .. await LeftOnAccountAsync(at, cancel)],
            [.. late.OrderBy(r => r.Due).ThenBy(r => r.Number, StringComparer.Ordinal)],
            await DueLetters.LoadAsync(context, settings, at.Today, byPost: true, cancel)
        );
    }

    private async Task<IReadOnlyList<ToInvoiceRow>> ToInvoiceAsync(At at, CancellationToken cancel)
    {
        var accounts = await OrderAccount.LoadAsync(at.Context, await OutAsync(at.Context, cancel), at.Settings, cancel);
        var rows = new List<ToInvoiceRow>();
        foreach (var account in accounts.Where(a => Out(a) > 0).OrderBy(LastOut).ThenBy(a => a.Order.Number))
        {
            var (order, draft) = (account.Order, InvoiceDrafts.Pieces(account, at.Today, new InvoiceWish()));
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

    /// <summary>Deposits of orders that have nothing left to invoice. A final invoice that came after one and stands took it off.</summary>
    private static async Task<IReadOnlyList<ToPayBackRow>> StrandedAsync(At at, CancellationToken cancel)
    {
        var (whole, note) = (InvoiceTerms.Word(DocumentKind.Invoice), InvoiceTerms.Word(DocumentKind.CreditNote));
        var (deposit, all) = (InvoiceTerms.Word(DocumentKind.DepositInvoice), at.Context.Documents);
        var ids = await all.Where(d => d.Kind == deposit && at.Context.Orders.Any(o => o.Id == d.Order && o.CancelledAt == null))
            .Where(d => !all.Any(c => c.Kind == note && c.Corrects == d.Id))
            .Where(d =>
                !all.Any(i => i.Order == d.Order && i.Kind == whole && i.At > d.At && !all.Any(c => c.Kind == note && c.Corrects == i.Id))
            )
            .Select(d => d.Order)
            .Distinct()
            .ToListAsync(cancel);
        return
        [
            .. from account in await OrderAccount.LoadAsync(at.Context, ids, at.Settings, cancel)
            orderby account.Order.Number
            from left in account.Stranded
            where left.Paid > 0m
            select new ToPayBackRow(
                left.Number,
                $"office/invoices/{left.Number}",
                account.Order.Contact.Name,
                left.Paid,
                account.Order.Currency,
                IsOff: false
            )
            {
                IsStranded = true,
            },
        ];
    }

    /// <summary>Money on account of an order that has nothing left to invoice: no invoice takes it off any more.</summary>
    private static async Task<IReadOnlyList<ToPayBackRow>> LeftOnAccountAsync(At at, CancellationToken cancel)
    {
        var moves = await at
            .Context.Payments.AsNoTracking()
            .Where(p => p.Document == null && p.Order != null && at.Context.Orders.Any(o => o.Id == p.Order && o.CancelledAt == null))
            .Select(p => new { Order = p.Order!.Value, p.Amount })
            .ToListAsync(cancel);
        var ids = moves.GroupBy(p => p.Order).Where(g => g.Sum(p => p.Amount) > 0m).Select(g => g.Key).ToList();
        return
        [
            .. from account in await OrderAccount.LoadAsync(at.Context, ids, at.Settings, cancel)
            where account is { HasToInvoice: false, OnAccount: > 0m, LeftToPay: < 0m }
            orderby account.Order.Number
            let order = account.Order
            let number = order.Number.ToString(CultureInfo.InvariantCulture)
            let sum = Math.Min(account.OnAccount, -account.LeftToPay - account.Stranded.Sum(d => d.Paid))
            where sum > 0m
            select new ToPayBackRow(number, $"office/orders/{number}", order.Contact.Name, sum, order.Currency, IsOff: false),
        ];
    }

    private static async Task<IReadOnlyList<ToPayBackRow>> ToPayBackAsync(At at, IReadOnlyList<InvoiceRow> open, CancellationToken cancel)
    {
        var off = (await OrderAccount.LoadAsync(at.Context, await CalledOffAsync(at.Context, cancel), at.Settings, cancel))
            .Where(a => a.ToGoBack > 0m)
            .OrderBy(a => a.Order.Number)
            .ToList();
        var known = off.Select(a => a.Order.Number).ToHashSet();
        return
        [
            .. off.Select(a =>
            {
                var number = a.Order.Number.ToString(CultureInfo.InvariantCulture);
                return new ToPayBackRow(number, $"office/orders/{number}", a.Order.Contact.Name, a.ToGoBack, a.Order.Currency, IsOff: true);
            }),
            .. open.Where(r => r.Outstanding < 0m && !known.Contains(r.OrderNumber))
                .OrderBy(r => r.At)
                .Select(r => new ToPayBackRow(
                    r.Number,
                    $"office/invoices/{r.Number}",
                    r.Customer,
                    -r.Outstanding,
                    r.Currency,
                    IsOff: false
                )),
        ];
    }

    /// <summary>Orders that were called off and hold money, more of it than stands on their invoices beside deposits: of the others nothing goes back.</summary>
    private static Task<List<OrderId>> CalledOffAsync(ShopContext context, CancellationToken cancel)
    {
        var (note, deposit) = (InvoiceTerms.Word(DocumentKind.CreditNote), InvoiceTerms.Word(DocumentKind.DepositInvoice));
        return context
            .Orders.Where(o => o.CancelledAt != null)
            .Select(o => new
            {
                o.Id,
                Paid = context.Payments.Where(p => p.Order == o.Id).Sum(p => (double)p.Amount),
                Kept = context
                    .Documents.Where(d => d.Order == o.Id && d.Kind != Reminders.Kind && d.Kind != deposit)
                    .Sum(d => d.Kind == note ? -(double)d.Total : (double)d.Total),
            })
            .Where(o => o.Paid > InvoiceBalances.Least && o.Paid - o.Kept > InvoiceBalances.Least)
            .Select(o => o.Id)
            .ToListAsync(cancel);
    }
}

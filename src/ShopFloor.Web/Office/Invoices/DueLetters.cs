using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>Invoices whose next overdue reminder is due while reminders are made by themselves.</summary>
internal static class DueLetters
{
    /// <summary>Those that go by mail, or those whose customer gave no e-mail address: a person makes and posts them.</summary>
    internal static async Task<IReadOnlyList<InvoiceRow>> LoadAsync(
        ShopContext context,
        CurrentSettings settings,
        DateOnly today,
        bool byPost,
        CancellationToken cancel
    )
    {
        if (!settings.Mail.MailOverdue || settings.Mail.Host.Length == 0)
            return [];
        var scope = new BalanceScope { OpenOnly = true, DueBefore = today };
        var late = (await InvoiceBalances.LoadAsync(context, scope, cancel)).Where(r => r.Outstanding > 0m).ToList();
        if (late.Count == 0)
            return [];
        var numbers = late.Select(r => r.OrderNumber).Distinct().ToList();
        var orders = await context.Orders.AsNoTracking().Where(o => numbers.Contains(o.Number)).ToListAsync(cancel);
        var unreachable = orders.Where(o => o.Contact.Email.Length == 0).Select(o => o.Number).ToHashSet();
        List<InvoiceRow> due = [];
        foreach (var row in late.Where(r => unreachable.Contains(r.OrderNumber) == byPost))
            if (
                await OpenInvoices.LoadAsync(context, row.Id, cancel) is { } open
                && Dunning.Next(open.Item, settings.Invoices.Reminders, open.Item.Sent, today) is not null
            )
                due.Add(row);
        return due;
    }
}

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
        var asked = late.Where(r => unreachable.Contains(r.OrderNumber) == byPost).ToDictionary(r => r.Id);
        var open = await OpenInvoices.LoadAsync(context, asked.Keys, cancel);
        var due = open.Where(o => Dunning.Next(o.Item, settings.Invoices.Reminders, o.Item.Sent, today) is not null)
            .Select(o => o.Id)
            .ToHashSet();
        return [.. late.Where(r => due.Contains(r.Id))];
    }
}

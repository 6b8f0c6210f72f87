using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>Makes the overdue letters that are due and mails them, where the owner wants that.</summary>
public sealed class MailOverdue(CommandRunner runner, SendReminder reminders, IDbContextFactory<ShopContext> contexts, TimeProvider time)
    : IUseCase
{
    /// <summary>What the keys of its mails begin with.</summary>
    public const string Key = "overdue/";

    /// <summary>Makes and mails what is due, each letter in a command of its own.</summary>
    /// <returns>How many were made.</returns>
    public async Task<int> RunAsync(CancellationToken cancel = default)
    {
        var made = 0;
        foreach (var invoice in await DueAsync(cancel))
        {
            var input = new ReminderInput(invoice);
            var done = await runner.RunAsync<ReminderInput, DocumentIssued>(
                nameof(MailOverdue),
                Allowed.System,
                Asked.BySystem(),
                input,
                work => DecideAsync(work, input, cancel),
                cancel
            );
            made += done.IsOk ? 1 : 0;
        }
        return made;
    }

    private async Task<IReadOnlyList<Guid>> DueAsync(CancellationToken cancel)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var settings = await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel);
        return
        [
            .. (await DueLetters.LoadAsync(context, settings, settings.Day(time.GetUtcNow()), byPost: false, cancel)).Select(r => r.Id),
        ];
    }

    private async Task<Result<DocumentIssued>> DecideAsync(CommandWork work, ReminderInput input, CancellationToken cancel)
    {
        var invoice = await work.Context.Documents.AsNoTracking().FirstAsync(d => d.Id == input.Invoice, cancel);
        var order = await work.Context.Orders.AsNoTracking().FirstAsync(o => o.Id == invoice.Order, cancel);
        // A letter that nobody posts would still count as sent.
        if (order.Contact.Email.Length == 0)
            return new Refusal("no-address", "There is no e-mail address: this reminder goes by post.");
        var made = await reminders.DecideAsync(work, input, cancel);
        if (!made.IsOk)
            return made;
        var settings = await CurrentSettings.LoadAsync(work.Context, work.Now, cancel);
        // An invoice is a matter of the contract: it is mailed to who gave an address, whatever else was agreed.
        var about = ($"{Key}{made.Value.Id:N}", $"Overdue reminder {made.Value.Number}, order {order.Number}");
        work.Context.Outbox.Add(OrderMail.Message(order, settings, t => t.Overdue, about, order.Contact, work.Now, made.Value.Id));
        work.Touch(Topic.Outbox, made.Value.Id);
        return made;
    }
}

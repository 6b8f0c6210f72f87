using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Orders.Changes;

/// <summary>How the customer is reached about an order, and the day asked for.</summary>
/// <param name="Order">The order.</param>
/// <param name="SeenVersion">As the page showed it.</param>
/// <param name="Contact">Name, mail and phone.</param>
/// <param name="Wanted">The day asked for; null: none.</param>
public sealed record ContactInput(OrderId Order, int SeenVersion, Contact Contact, DateOnly? Wanted);

/// <summary>Puts the contact of a booked order and the wanted day right. What is kept of the customer beside the order stays.</summary>
public sealed class ChangeContact(CommandRunner runner) : IUseCase
{
    /// <summary>Does it.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, ContactInput input, CancellationToken cancel = default) =>
        runner.RunAsync<ContactInput, Done>(
            nameof(ChangeContact),
            Allowed.Owner,
            asked,
            input,
            work => DecideAsync(work, input, cancel),
            cancel
        );

    private static async Task<Result<Done>> DecideAsync(CommandWork work, ContactInput input, CancellationToken cancel)
    {
        var found = await SeenOrder.FindAsync(work, (input.Order, input.SeenVersion), cancel);
        if (!found.IsOk)
            return Result<Done>.Refused(found.Refusals);
        var (order, settings) = (found.Value, await CurrentSettings.LoadAsync(work.Context, work.Now, cancel));
        var (contact, wanted) = (order.Contact, order.Wanted);
        // A day that is over by now was no mistake when it was asked for.
        List<Refusal> faults = [.. Customer.ContactFaults(input.Contact)];
        if (input.Wanted != wanted)
            faults.AddRange(LineFaults.OfWanted(input.Wanted, settings.Day(work.Now)));
        if (faults.Count > 0)
            return Result<Done>.Refused(faults);
        var done = order.Reach(input.Contact).Then(_ => input.Wanted == wanted ? default(Done) : order.Want(input.Wanted));
        if (!done.IsOk)
            return done;
        if (order.Contact != contact)
            work.Audit(SeenOrder.ContactChanged, SeenOrder.Subject(order), Words(contact), Words(order.Contact));
        if (order.Contact.Email != contact.Email && await ReaddressAsync(work, order, contact.Email, cancel) is { } waits)
            return waits;
        if (order.Wanted != wanted)
            work.Audit("wanted day changed", SeenOrder.Subject(order), Words(wanted), Words(order.Wanted));
        return done;
    }

    /// <summary>The customer's mails that wait go to the address that is right; where there is none any more they go nowhere, but for a reminder, which is
    /// issued and counted already. What waits for the workshop itself stays.</summary>
    private static async Task<Refusal?> ReaddressAsync(CommandWork work, Order order, string before, CancellationToken cancel)
    {
        var open = await work
            .Context.Outbox.Where(m => m.Order == order.Id && m.Kind == OutboxMessage.Mail && m.SentAt == null && m.Json != "")
            .ToListAsync(cancel);
        var waiting = open.Select(m => (Message: m, Mail: JsonSerializer.Deserialize<MailContent>(m.Json, JsonForms.Default)!))
            .Where(m => m.Mail.To == before)
            .ToList();
        if (order.Contact.Email.Length == 0)
        {
            if (waiting.Exists(m => m.Message.Key.StartsWith(MailOverdue.Key, StringComparison.Ordinal)))
                return new Refusal(
                    "reminder-waits",
                    "A reminder waits to be sent to this address: print and post it and put its mail away under Sending, then take the address out.",
                    "Contact.Email"
                );
            work.Context.Outbox.RemoveRange(waiting.Select(m => m.Message));
        }
        foreach (var (message, mail) in waiting)
        {
            var right = mail with { To = order.Contact.Email, ToName = order.Contact.Name };
            message.Rewrite(JsonSerializer.Serialize(right, JsonForms.Default));
        }
        return null;
    }

    private static string Words(Contact contact) =>
        string.Join(", ", new[] { contact.Name, contact.Email, contact.Phone }.Where(w => w.Length > 0));

    private static string Words(DateOnly? day) => day?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) ?? "";
}

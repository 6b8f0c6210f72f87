using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
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
        if (order.Contact.Email != contact.Email)
            await ReaddressAsync(work, order, cancel);
        if (order.Wanted != wanted)
            work.Audit("wanted day changed", SeenOrder.Subject(order), Words(wanted), Words(order.Wanted));
        return done;
    }

    /// <summary>Mails that wait go to the address that is right; where there is none any more they go nowhere.</summary>
    private static async Task ReaddressAsync(CommandWork work, Order order, CancellationToken cancel)
    {
        var waiting = await work
            .Context.Outbox.Where(m => m.Order == order.Id && m.Kind == OutboxMessage.Mail && m.SentAt == null && m.Json != "")
            .ToListAsync(cancel);
        if (order.Contact.Email.Length == 0)
            work.Context.Outbox.RemoveRange(waiting);
        else
            foreach (var message in waiting)
            {
                var mail = JsonSerializer.Deserialize<MailContent>(message.Json, JsonForms.Default)!;
                var right = mail with { To = order.Contact.Email, ToName = order.Contact.Name };
                message.Rewrite(JsonSerializer.Serialize(right, JsonForms.Default));
            }
    }

    private static string Words(Contact contact) =>
        string.Join(", ", new[] { contact.Name, contact.Email, contact.Phone }.Where(w => w.Length > 0));

    private static string Words(DateOnly? day) => day?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) ?? "";
}

using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Localization;
using ShopFloor.Data;
using ShopFloor.Documents.Imaging;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Counter.Drafts;
using ShopFloor.Web.Counter.Intake;
using ShopFloor.Web.Counter.Secrets;

namespace ShopFloor.Web.Counter.Ticket;

/// <summary>What the ticket shows.</summary>
/// <param name="Number">The order's number.</param>
/// <param name="Day">The promised day in words.</param>
/// <param name="CodeSvg">The secret link as a drawn code.</param>
/// <param name="Facts">What else stands on it.</param>
public sealed record Ticket(int Number, string Day, string CodeSvg, IReadOnlyList<(string Name, string Value)> Facts);

/// <summary>
/// The ticket of a draft that was booked, as long as the draft is not put away. The secret comes from the answer that was kept with the
/// booking command.
/// </summary>
public sealed class TicketView(IDbContextFactory<ShopContext> contexts, CounterChoicesView choices, IStringLocalizer<CounterTexts> texts)
    : IPageView
{
    /// <summary>The ticket, for who booked.</summary>
    public async Task<Result<Ticket>> RunAsync(Guid worker, Guid draft, string address, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var found = await DraftAccess.FindAsync(context, draft, worker.ToString(), cancel);
        if (!found.IsOk)
            return Result<Ticket>.Refused(found.Refusals);
        var command = KeptOrder.Of(found.Value).Entry.BookCommand;
        var record = await context.Commands.AsNoTracking().FirstOrDefaultAsync(c => c.Id == command, cancel);
        if (record is null || found.Value.BecameOrder is not { } id)
            return new Refusal("not-booked", "This order is not booked yet.");
        var booked = JsonSerializer.Deserialize<BookedOrder>(record.ResultJson, JsonForms.Default)!;
        var order = await context.Orders.AsNoTracking().SingleAsync(o => o.Id == id, cancel);
        var words = new MoneyAndDay(await choices.RunAsync(cancel));
        var link = $"{PublicAddress.Of(words.Choices.PublicAddress, address)}status/{booked.StatusToken}";
        List<(string, string)> facts = [(texts["Price"], words.Money(words.Choices.PricesIncludeTax ? order.Gross : order.Net))];
        if (order.DepositAsked > 0)
            facts.Add((texts["Deposit asked for"], words.Money(order.DepositAsked)));
        facts.Add((texts["Pieces"], order.Lines.Sum(l => l.Quantity).ToString(CultureInfo.CurrentCulture)));
        return new Ticket(order.Number, words.Day(order.PromisedAt), QrCode.Of(link).ToSvg(texts["Code of your order’s page"]), facts);
    }
}

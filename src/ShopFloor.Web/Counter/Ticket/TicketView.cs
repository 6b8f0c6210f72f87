using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Localization;
using ShopFloor.Data;
using ShopFloor.Documents.Imaging;
using ShopFloor.Domain;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Counter.Drafts;
using ShopFloor.Web.Counter.Intake;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Counter.Ticket;

/// <summary>What the ticket shows.</summary>
/// <param name="Number">The order's number.</param>
/// <param name="Day">The promised day in words.</param>
/// <param name="CodeSvg">The secret link as a drawn code.</param>
/// <param name="Facts">What else stands on it.</param>
public sealed record Ticket(int Number, string Day, string CodeSvg, IReadOnlyList<(string Name, string Value)> Facts);

/// <summary>A ticket as a file.</summary>
/// <param name="Order">The order's number.</param>
/// <param name="Name">The file's name.</param>
/// <param name="Pdf">The file.</param>
public sealed record TicketFile(int Order, string Name, byte[] Pdf);

/// <summary>
/// The ticket of a draft that was booked, as long as the draft is not put away. The secret comes from the answer that was kept with the
/// booking command.
/// </summary>
public sealed class TicketView(
    IDbContextFactory<ShopContext> contexts,
    CounterChoicesView choices,
    TimeProvider time,
    SecretBox secrets,
    IStringLocalizer<CounterTexts> texts
) : IPageView
{
    /// <summary>The ticket, for who booked.</summary>
    public async Task<Result<Ticket>> RunAsync(Guid worker, Guid draft, string address, CancellationToken cancel = default) =>
        (await FindAsync(worker, draft, address, cancel)).Then<Ticket>(found =>
        {
            var order = found.Order;
            List<(string, string)> facts =
            [
                .. TicketPaper.Sums(found, texts),
                (texts["Pieces"], order.Lines.Sum(l => l.Quantity).ToString(CultureInfo.CurrentCulture)),
            ];
            var code = QrCode.Of(found.Link).ToSvg(texts["Code of your order’s page"]);
            return new Ticket(order.Number, found.Words.Day(order.PromisedAt), code, facts);
        });

    /// <summary>The slip to take home, on A6.</summary>
    public async Task<Result<TicketFile>> FileAsync(Guid worker, Guid draft, string address, CancellationToken cancel = default) =>
        (await FindAsync(worker, draft, address, cancel)).Then<TicketFile>(found => TicketPaper.Draw(found, time.GetUtcNow(), texts));

    private async Task<Result<TicketFacts>> FindAsync(Guid worker, Guid draft, string address, CancellationToken cancel)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var found = await DraftAccess.FindAsync(context, draft, worker.ToString(), cancel);
        if (!found.IsOk)
            return Result<TicketFacts>.Refused(found.Refusals);
        var command = KeptOrder.Of(found.Value).Entry.BookCommand;
        var record = await context.Commands.AsNoTracking().FirstOrDefaultAsync(c => c.Id == command, cancel);
        if (record is null || found.Value.BecameOrder is not { } id)
            return new Refusal("not-booked", "This order is not booked yet.");
        var booked = JsonSerializer.Deserialize<BookedOrder>(record.ResultJson, JsonForms.Default)!.Opened(secrets);
        if (booked.StatusToken.Length == 0)
            return new Refusal(
                "link-closed",
                "The code of this ticket can no longer be read. The workshop still knows the order by its number."
            );
        var words = new MoneyAndDay(await choices.RunAsync(cancel));
        return new TicketFacts(
            await context.Orders.AsNoTracking().SingleAsync(o => o.Id == id, cancel),
            TicketAgain.LinkOf(words.Choices.PublicAddress, address, booked.StatusToken),
            words,
            (await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel)).Profile
        );
    }
}

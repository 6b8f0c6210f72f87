using Microsoft.Extensions.Localization;
using ShopFloor.Documents.Labels;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Counter.Intake;

namespace ShopFloor.Web.Counter.Ticket;

/// <summary>What a ticket is drawn from.</summary>
/// <param name="Order">The order.</param>
/// <param name="Link">The secret address of the customer's page; empty: the ticket has no code.</param>
/// <param name="Words">Amounts and days as the customer reads them.</param>
/// <param name="Shop">The workshop.</param>
internal sealed record TicketFacts(Order Order, string Link, MoneyAndDay Words, WorkshopProfile Shop);

/// <summary>The slip to take home, on A6.</summary>
internal static class TicketPaper
{
    /// <summary>Draws it in the language of the thread.</summary>
    public static TicketFile Draw(TicketFacts found, DateTimeOffset now, IStringLocalizer<CounterTexts> texts)
    {
        var (order, shop) = (found.Order, found.Shop);
        string[] from = [shop.Name, shop.Street, $"{shop.Postcode} {shop.City}".Trim(), shop.Phone];
        var slip = new JobTicket(
            [.. from.Where(l => l.Length > 0)],
            order.Number.ToString(CultureInfo.InvariantCulture),
            found.Words.Day(order.BookedAt),
            [.. order.Lines.OrderBy(l => l.Number).Select(l => Line(l, found.Words.Choices, texts))],
            found.Words.Day(order.PromisedAt),
            found.Link
        )
        {
            Sums = order.IsGift ? [] : Sums(found, texts),
            Notes = order.Lines.Any(l => l.Piece.IsOwn)
                ? [texts["You accepted the risk for your own piece. A coated piece is not for food and not for the dishwasher."]]
                : [],
        };
        var words = new TicketWords
        {
            Order = texts["Order"],
            Ready = texts["Ready by"],
            Scan = texts["Scan to see how far it is. Whoever has this code sees the same: keep it."],
        };
        return new TicketFile(
            order.Number,
            $"{words.Order}-{slip.OrderNumber}.pdf",
            JobTickets.Draw(slip, now.UtcDateTime, words).ToBytes()
        );
    }

    /// <summary>Price and deposit.</summary>
    public static List<(string Name, string Value)> Sums(TicketFacts found, IStringLocalizer<CounterTexts> texts)
    {
        var (order, words) = (found.Order, found.Words);
        List<(string, string)> sums =
        [
            (texts["Price"], words.Money(order.IsWithTax(words.Choices.PricesIncludeTax) ? order.Gross : order.Net)),
        ];
        if (order.Deposit > 0)
            sums.Add((texts["Deposit asked for"], words.Money(order.Deposit)));
        return sums;
    }

    private static string Line(OrderLine line, CounterChoices choices, IStringLocalizer<CounterTexts> texts) =>
        $"{line.Quantity.ToString(CultureInfo.CurrentCulture)} × {texts[choices.Material(line.Piece.Material).Name]}, "
        + $"{Entries.SizeEcho.Face(line.Piece)}, {texts[line.Finish.Words()]}";
}

using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Documents.Letters;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Seasons;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Office.Workshop;

namespace ShopFloor.Web.Office.Orders;

/// <summary>Letters about an order that are no invoices.</summary>
public enum OrderLetterKind
{
    Quote,
    Confirmation,

    /// <summary>What is ready or handed over, to be signed, without prices.</summary>
    Delivery,

    /// <summary>Goes with a present, without prices.</summary>
    Gift,
}

/// <summary>Makes the letters about an order as PDF.</summary>
public sealed class OrderLetterView(IDbContextFactory<ShopContext> contexts, Letterheads heads, TimeProvider time) : IPageView
{
    /// <summary>The letter; null when there is no such order, or nothing to put on it.</summary>
    /// <param name="number">The order's number.</param>
    /// <param name="kind">Which letter.</param>
    /// <param name="message">The giver's words on a gift note.</param>
    /// <param name="cancel">Ends the read.</param>
    public async Task<byte[]?> MakeAsync(int number, OrderLetterKind kind, string message, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var now = time.GetUtcNow();
        var id = await context.Orders.Where(o => o.Number == number).Select(o => (Domain.OrderId?)o.Id).FirstOrDefaultAsync(cancel);
        if (id is not { } order || await OrderAccount.LoadAsync(context, order, now, cancel) is not { } account)
            return null;
        var paper = Paper(account, kind, now);
        if (paper.Lines.Count == 0)
            return null;
        var reader = LetterReader.Of(account.Order.Language);
        var words = new LetterWords(account.Settings, account.Order.Contact.Name, (TextPlaces.Order, paper.Number));
        var letter = Letter(kind, paper, message, (reader, words));
        return LetterWriter.Write(
            letter,
            heads.Of(account.Settings, InvoiceTerms.Seller(account.Settings.Profile), reader),
            InvoiceTerms.Paper(account.Settings.Profile),
            now.UtcDateTime
        );
    }

    private static Letter Letter(OrderLetterKind kind, OrderPaper paper, string message, (LetterReader Reader, LetterWords Words) with)
    {
        var (reader, words) = with;
        return kind switch
        {
            OrderLetterKind.Quote => words.Close(words.Open(OrderLetters.Quote(paper, reader), t => t.QuoteOpening), t => t.QuoteClosing),
            OrderLetterKind.Confirmation => words.Close(
                words.Open(OrderLetters.Confirmation(paper, reader), t => t.ConfirmationOpening),
                t => t.ConfirmationClosing
            ),
            OrderLetterKind.Delivery => words.Close(
                words.Open(OrderLetters.DeliveryNote(paper, reader), t => t.DeliveryOpening),
                t => t.DeliveryClosing
            ),
            _ => OrderLetters.GiftNote(paper with { To = [] }, message, reader),
        };
    }

    private static OrderPaper Paper(OrderAccount account, OrderLetterKind kind, DateTimeOffset now)
    {
        var (order, profile) = (account.Order, account.Settings.Profile);
        var reader = LetterReader.Of(order.Language);
        var (today, gross) = (account.Settings.Day(now), account.WithTax);
        var priced = kind is OrderLetterKind.Quote or OrderLetterKind.Confirmation;
        var buyer = InvoiceTerms.Buyer(account.Customer, order.Contact, account.Settings);
        var lines = account
            .Lines.Select(l => new OrderPaperLine(
                InvoiceDrafts.Name(account, l.Line),
                kind == OrderLetterKind.Gift ? InvoiceDrafts.Size(l.Line, reader) : InvoiceDrafts.Describe(l.Line, reader),
                priced || kind == OrderLetterKind.Gift ? l.Line.Quantity : l.Ready,
                (gross ? l.Line.Price.Gross : l.Line.Price.Net) / l.Line.Quantity
            ))
            .Where(l => l.Quantity > 0)
            .ToList();
        if (priced)
            lines.AddRange([
                .. order.Discounts.Select(d => new OrderPaperLine(Words(d, reader), "", 1m, -d.Amount)),
                .. order.Charges.Select(c => new OrderPaperLine(c.Name, "", 1m, c.Amount)),
            ]);
        return new OrderPaper(
            order.Number.ToString(CultureInfo.InvariantCulture),
            today,
            InvoiceLetter.To(buyer, profile.Country, reader),
            lines,
            order.Currency
        )
        {
            Promised = priced ? account.Settings.Day(order.PromisedAt) : null,
            ValidUntil = kind == OrderLetterKind.Quote ? today.AddDays(profile.OfferDays) : null,
            Deposit = priced ? account.Deposit : 0m,
            DepositInvoice = string.Join(", ", account.DepositInvoices.Select(d => d.Document.Reference.Number)),
            Texts = priced ? Texts(account, reader) : [],
            TaxWords = TaxWords(order, account.Settings, reader),
            Seasons = priced
                ?
                [
                    .. SeasonSaid
                        .Booked(account.Settings, now, order.BookedAt, order.PromisedAt)
                        .Select(s => s.OnPaper(reader.Say, reader.Day, reader.Language)),
                ]
                : [],
            Words =
                kind == OrderLetterKind.Confirmation && order.Agreements.Any(a => a.What == "risk")
                    ? [reader.Say("You accepted that an own piece can be lost in the work.")]
                    : [],
        };
    }

    private static List<string> Texts(OrderAccount account, LetterReader reader) =>
        [
            .. account
                .Lines.Where(l => l.Line.Quantity > 0)
                .Select((l, i) => Texts(l.Line.Texts, (i + 1).ToString(CultureInfo.InvariantCulture), reader))
                .Where(t => t.Length > 0),
        ];

    /// <summary>Piece by piece, as they will be printed.</summary>
    internal static string Texts(IReadOnlyList<string> texts, string position, LetterReader reader) =>
        texts.All(string.IsNullOrWhiteSpace) ? ""
        : texts.Count == 1 ? reader.Say("Text on each piece of line {0}: {1}", position, texts[0])
        : reader.Say(
            "Texts on the pieces of line {0}: {1}",
            position,
            string.Join(" · ", texts.Select((t, i) => string.Create(CultureInfo.InvariantCulture, $"({i + 1}) {t}")))
        );

    private static string Words(OrderDiscount discount, LetterReader reader) =>
        discount.Percent is { } percent ? $"{reader.Say(discount.Reason)}, {reader.Percent(percent)}" : reader.Say(discount.Reason);

    /// <summary>What a letter says about tax: a price that was agreed without any contains none, whatever the workshop charges now.</summary>
    public static string TaxWords(Order order, CurrentSettings settings, LetterReader reader) =>
        TaxWords(
            [.. order.Lines.Select(l => l.Price)],
            order.IsWithTax(settings.Profile.PricesIncludeTax),
            settings.Invoices.SystemOn(settings.Day(order.BookedAt)),
            reader
        );

    /// <summary>The same of prices, whether they are agreed or offered.</summary>
    internal static string TaxWords(IReadOnlyList<AgreedPrice> prices, bool withTax, TaxSystem system, LetterReader reader)
    {
        var label = reader.Say(system.Label);
        return prices.All(p => p.TaxPercent == 0m) ? reader.Say("No {0} is charged.", label)
            : withTax ? reader.Say("Prices include {0}.", label)
            : reader.Say("Prices are without {0}.", label);
    }
}

using ShopFloor.Documents.Letters;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Office.Seasons;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Office.Workshop;

namespace ShopFloor.Web.Counter.Offers;

/// <summary>Puts an entry that is not booked on the paper of an offer.</summary>
internal static class OfferPaper
{
    /// <summary>What stands on it; its number is given when it is kept.</summary>
    /// <param name="judged">The entry with its prices.</param>
    /// <param name="customer">A known customer; null: only a name.</param>
    /// <param name="ready">The day it would be ready, of the shop.</param>
    /// <param name="reader">Who reads it.</param>
    public static OrderPaper Of(JudgedOrder judged, Customer? customer, DateOnly ready, LetterReader reader)
    {
        var (settings, prices) = (judged.Shop.Settings, judged.Priced());
        var profile = settings.Profile;
        var today = settings.Day(judged.Shop.At);
        return new OrderPaper("", today, To(judged.Order, customer, settings, reader), Lines(judged, reader), profile.Currency)
        {
            Promised = ready,
            ValidUntil = today.AddDays(profile.OfferDays),
            Deposit = judged.Lines.Sum(j => j.Quote.Price!.Deposit.Amount),
            Texts = [.. judged.Order.Lines.Select((l, i) => OrderLetterView.Texts(l.Texts, $"{i + 1}", reader)).Where(t => t.Length > 0)],
            Taxes = [.. Taxes(prices, profile.PricesIncludeTax, settings.Invoices.SystemOn(today))],
            Seasons = [.. SeasonSaid.Of(settings, today, today, ready).Select(s => s.OnPaper(reader.Say, reader.Day, reader.Language))],
            TaxWords = OrderLetterView.TaxWords(prices, profile.PricesIncludeTax, settings.Invoices.SystemOn(today), reader),
        };
    }

    /// <summary>The offer as a file to print, to save or to mail.</summary>
    public static byte[] Write(KeptOffer offer, CurrentSettings settings, Letterheads heads, DateTimeOffset now)
    {
        var reader = LetterReader.Of(offer.Language);
        var words = new LetterWords(settings, offer.Name, (TextPlaces.Order, offer.Number));
        return LetterWriter.Write(
            words.Close(words.Open(OrderLetters.Offer(offer.Paper, reader), t => t.QuoteOpening), t => t.QuoteClosing),
            heads.Of(settings, InvoiceTerms.Seller(settings.Profile), reader),
            InvoiceTerms.Paper(settings.Profile),
            now.UtcDateTime
        );
    }

    private static IReadOnlyList<string> To(OrderInput order, Customer? customer, CurrentSettings settings, LetterReader reader) =>
        customer is null
            ? [order.Contact.Name]
            : InvoiceLetter.To(
                InvoiceTerms.Buyer(customer, order.Contact.Over(customer.Contact), settings),
                settings.Profile.Country,
                reader
            );

    private static IReadOnlyList<OrderPaperLine> Lines(JudgedOrder judged, LetterReader reader) =>
        [
            .. judged
                .Order.Lines.Zip(judged.Lines)
                .Select(l => new OrderPaperLine(
                    InvoiceDrafts.Name(l.First.Piece, l.First.Finish, judged.Shop.Settings, reader),
                    Note(l.First, l.Second, reader),
                    l.First.Quantity,
                    l.Second.Quote.Price!.UnitPrice.Amount
                )),
        ];

    private static string Note(LineInput line, JudgedLine judged, LetterReader reader)
    {
        string?[] what =
        [
            InvoiceDrafts.Describe(line.Piece, reader),
            line.Picture is not null ? reader.Say("your picture")
            : line.Placement.IsToCome ? reader.Say("your picture, still to come")
            : null,
            line.Texts.Count > 0 ? reader.Say("your text") : null,
            line.SecondSide ? reader.Say("a second side is asked about before we begin and is not in this price") : null,
            judged.Quote.Verdict == Verdict.TestPiece ? reader.Say("a test piece first") : null,
        ];
        var done = reader.Say("Done to each piece: {0}", string.Join(", ", Work(judged.Steps, reader)));
        return $"{string.Join(", ", what.OfType<string>())}. {done}.";
    }

    /// <summary>What is done to a piece, in the order it is first done.</summary>
    private static IEnumerable<string> Work(IReadOnlyList<RecipeStep> steps, LetterReader reader)
    {
        var coats = steps.Count(s => s.Kind == StepKind.Spray);
        foreach (var kind in steps.Select(s => s.Kind).Distinct())
        {
            var said = kind switch
            {
                StepKind.Clean => reader.Say("cleaned"),
                StepKind.Mask => reader.Say("masked"),
                StepKind.Dry => reader.Say("dried in the oven"),
                StepKind.Wipe => reader.Say("primed"),
                StepKind.Spray when coats == 1 => reader.Say("coated once"),
                StepKind.Spray => reader.Say("coated {0} times", coats.ToString(CultureInfo.InvariantCulture)),
                StepKind.Cure => reader.Say("baked"),
                StepKind.Press => reader.Say("print pressed in"),
                StepKind.Inspect => reader.Say("checked"),
                StepKind.Pack => reader.Say("packed"),
                _ => "",
            };
            if (said.Length > 0)
                yield return said;
        }
    }

    private static IEnumerable<OrderPaperTax> Taxes(IReadOnlyList<AgreedPrice> prices, bool contained, TaxSystem system) =>
        prices
            .Where(p => p.TaxPercent != 0m)
            .GroupBy(p => p.TaxPercent)
            .OrderByDescending(g => g.Key)
            .Select(g => new OrderPaperTax(system.Label, g.Key, g.Sum(p => p.Gross - p.Net), contained));
}

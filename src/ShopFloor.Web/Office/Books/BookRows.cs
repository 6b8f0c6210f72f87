using ShopFloor.Domain.Invoicing;
using ShopFloor.Web.Office.Exchange;

namespace ShopFloor.Web.Office.Books;

/// <summary>The two files for the tax adviser. Amounts are numbers with a point, days as 2026-05-04; a text that would begin a formula is made harmless.</summary>
public static class BookRows
{
    private static readonly string[] DocumentHeads =
    [
        "number",
        "date",
        "kind",
        "order",
        "customer",
        "country",
        "vat_id",
        "category",
        "rate",
        "net",
        "tax",
        "rounding",
        "gross",
        "currency",
        "corrects",
        "due",
        "paid",
        "paid_on",
    ];

    private static readonly string[] PaymentHeads = ["date", "method", "amount", "currency", "document", "order", "customer", "note"];

    /// <summary>One line for each rate of a document; its rounding and what was paid stand in its first line, so that each column adds up.</summary>
    public static string Documents(BooksSheet books) => CsvText.Write(DocumentHeads, books.Documents.SelectMany(Lines));

    /// <summary>One line for each payment; what was only set off stands there twice, once with a minus.</summary>
    public static string Payments(BooksSheet books) =>
        CsvText.Write(
            PaymentHeads,
            books.Payments.Select(p =>
                (IReadOnlyList<object?>)
                    [p.Day, p.IsMoney ? p.Means : "set off", Coins(p.Amount), p.Currency, p.Document, p.Order, p.Customer, p.Note]
            )
        );

    private static IEnumerable<IReadOnlyList<object?>> Lines(BookDocument d)
    {
        for (var at = 0; at < d.Groups.Count; at++)
        {
            var (group, rounding) = (d.Groups[at], at == 0 ? d.Rounding : 0m);
            yield return
            [
                d.Number,
                d.Day,
                d.Kind,
                d.Order,
                d.Customer,
                d.Country,
                d.VatId,
                group.Kind.Category.Code(),
                group.Kind.Percent,
                Coins(group.Taxable),
                Coins(group.Tax),
                Coins(rounding),
                Coins(group.Taxable + group.Tax + rounding),
                d.Currency,
                d.Corrects,
                d.Due,
                Coins(at == 0 ? d.Paid : 0m),
                d.PaidOn,
            ];
        }
    }

    /// <summary>With two decimals, whatever it was entered with.</summary>
    private static decimal Coins(decimal amount) => amount + 0.00m;
}

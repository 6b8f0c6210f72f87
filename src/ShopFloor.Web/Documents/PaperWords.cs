using Microsoft.Extensions.Localization;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Orders;

namespace ShopFloor.Web.Documents;

/// <summary>Papers in words.</summary>
internal static class PaperWords
{
    /// <summary>Kind and subject.</summary>
    public static string Title(PaperWish wish, IStringLocalizer texts) => Title(wish.Name, texts);

    /// <summary>The same from its name in the journal.</summary>
    public static string Title(string name, IStringLocalizer texts)
    {
        var parts = name.Split(' ', 2);
        var kind = parts[0] switch
        {
            nameof(PaperKind.Labels) => "Piece labels",
            nameof(PaperKind.Card) => "Card",
            nameof(PaperKind.Sheets) => "Print sheets",
            nameof(PaperKind.Day) => "Day sheet",
            "Ticket" => "Ticket",
            nameof(OrderLetterKind.Quote) => "Quote",
            nameof(OrderLetterKind.Confirmation) => "Order confirmation",
            nameof(OrderLetterKind.Delivery) => "Delivery note",
            nameof(OrderLetterKind.Gift) => "Gift note",
            PrintReceipt.Kind => "Payment receipt",
            _ => "Calibration page",
        };
        // A day is written as days are written here; in the journal it stands in the form that sorts.
        return parts.Length == 1 ? texts[kind]
            : DateOnly.TryParseExact(parts[1], "yyyy-MM-dd", out var day)
                ? $"{texts[kind].Value} {day.ToString("d", CultureInfo.CurrentCulture)}"
            : $"{texts[kind].Value} {parts[1]}";
    }
}

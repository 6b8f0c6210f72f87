using ShopFloor.Domain;
using OfficeText = ShopFloor.Web.Office.Settings.NumberText;

namespace ShopFloor.Web.Counter.Entries;

/// <summary>Reads counts, areas and amounts of money as people write them, with comma or point, with or without thousands marks.</summary>
public static class NumberText
{
    private const int MoneyDecimals = 2;

    /// <summary>A whole number from 0 up.</summary>
    public static int? Count(string? text)
    {
        var plain = Bare(text);
        return int.TryParse(plain, NumberStyles.None, CultureInfo.InvariantCulture, out var count) ? count : null;
    }

    /// <summary>An amount of money of at least zero. What can mean two amounts is refused: one writes 1.250 for 1250, another for 1.25.</summary>
    public static Result<decimal> Amount(string? text) =>
        OfficeText.Money(Coinless(text)) is { IsOk: true, Value: >= 0 and var amount } && decimal.Round(amount, MoneyDecimals) == amount
            ? amount
            : new Refusal("amount-unreadable", "This is no amount. Examples: 25, 1250.50");

    /// <summary>A number of at least zero that may have any decimals. What can mean two numbers is refused.</summary>
    public static Result<decimal> Area(string? text) =>
        OfficeText.Clear(Bare(text)) is { IsOk: true, Value: >= 0 and var area }
            ? area
            : new Refusal("area-unreadable", "Please enter the area in cm², for example 45");

    /// <summary>What is wrong with an amount, under the name of its field; null: nothing.</summary>
    public static Fault? AmountFault(string field, string name, string? text) =>
        Amount(text) is not { IsOk: false } unread ? null
        : OfficeText.BothWays(Coinless(text), "0.00") is var (thousands, fraction)
            ? new Fault(field, "{0}: “{1}” can mean two amounts. Write {2} or {3}.", name, text!.Trim(), thousands, fraction)
        : new Fault(field, "{0}: {1}", name, unread.Refusals[0].Text);

    /// <summary>What is wrong with an area; null: nothing.</summary>
    public static Fault? AreaFault(string field, string? text) =>
        Area(text) is not { IsOk: false } unread ? null
        : OfficeText.BothWays(Bare(text), "0.##") is var (thousands, fraction)
            ? new Fault(field, "“{0}” can mean two areas. Write {1} or {2}.", text!.Trim(), thousands, fraction)
        : new Fault(field, unread.Refusals[0].Text);

    private static string Coinless(string? text) => Bare(text).TrimStart('€', '$', '£').TrimEnd('€', '$', '£');

    private static string Bare(string? text) => string.Concat((text ?? "").Where(c => !char.IsWhiteSpace(c)));
}

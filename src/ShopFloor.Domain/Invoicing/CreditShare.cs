using ShopFloor.Domain.Pricing;
using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Invoicing;

/// <summary>A line of an invoice as it can be credited.</summary>
/// <param name="Line">The invoice's line.</param>
/// <param name="Net">Its net after its share of the discounts on the whole.</param>
public sealed record CreditableLine(InvoiceLine Line, decimal Net)
{
    /// <summary>With tax: as shown where prices include tax, else net and tax, not rounded.</summary>
    public decimal Gross => Line.Shown?.Amount ?? (Net * (1m + (Line.Tax.Percent / 100m)));
}

/// <summary>How much of one line is credited now, and was before.</summary>
internal sealed record CreditShare(CreditableLine Line, decimal Before, decimal Quantity)
{
    public decimal After => Before + Quantity;

    public decimal GrossNow => GrossUpTo(After) - GrossUpTo(Before);

    /// <summary>Only a note for the whole has allowances and charges of its own: it credits every line and charge.</summary>
    public static CreditShare Of(CreditableLine line, IReadOnlyList<IssuedInvoice> earlier, decimal quantity)
    {
        var before = earlier.Any(n => n.Content.Adjustments.Count > 0)
            ? line.Line.Quantity
            : earlier
                .SelectMany(n => n.Content.Lines)
                .Where(l => string.Equals(l.Id, line.Line.Id, StringComparison.Ordinal))
                .Sum(l => l.Quantity);
        return new(line, before, quantity);
    }

    public IEnumerable<Refusal> Check()
    {
        var (whole, id) = (Line.Line.Quantity, Line.Line.Id);
        if (Math.Sign(Quantity) == -Math.Sign(whole) && Quantity != 0m)
            yield return new("credit-sign", $"Line {id} can only be credited with the sign it has on the invoice.", id);
        else if (Math.Abs(After) > Math.Abs(whole))
            yield return new(
                "credit-too-much",
                string.Create(CultureInfo.InvariantCulture, $"Of line {id} {whole - Before:0.####} of {whole:0.####} are left to credit."),
                id
            );
    }

    /// <summary>Prices without tax: each line is credited by the difference of its running sums.</summary>
    public static IReadOnlyList<InvoiceLine> NetLines(IReadOnlyList<CreditShare> shares) =>
        [.. shares.Where(s => s.Quantity != 0m).Select(s => s.ToLine(s.NetUpTo(s.After) - s.NetUpTo(s.Before)))];

    /// <summary>Prices with tax: each tax group is credited by the difference of its running net, and that is spread over its lines.</summary>
    public static IReadOnlyList<InvoiceLine> GrossLines(IReadOnlyList<CreditShare> shares)
    {
        Dictionary<string, InvoiceLine> lines = new(StringComparer.Ordinal);
        foreach (var group in shares.GroupBy(s => s.Line.Line.Tax))
        {
            var divisor = 1m + (group.Key.Percent / 100m);
            var net =
                Money.Round(group.Sum(s => s.GrossUpTo(s.After)) / divisor) - Money.Round(group.Sum(s => s.GrossUpTo(s.Before)) / divisor);
            var now = group.Where(s => s.Quantity != 0m).ToList();
            // A quotient that should be a whole coin may end in …9999: its last digits are cut off so that it counts as one.
            var nets = Apportion.ByLargestRemainder([.. now.Select(s => Math.Round(s.GrossNow / divisor, 12))], net, 2);
            for (var i = 0; i < now.Count; i++)
                lines.Add(now[i].Line.Line.Id, now[i].ToLine(nets[i]));
        }
        return [.. shares.Where(s => s.Quantity != 0m).Select(s => lines[s.Line.Line.Id])];
    }

    private InvoiceLine ToLine(decimal net)
    {
        var line = Line.Line;
        var part = line with { Quantity = Quantity, Adjustments = [], ListPrice = null, PriceDiscount = null };
        if (line.Shown is { } shown)
            part = part with { Shown = shown with { Amount = GrossNow } };
        return part.Net() == net ? part : part.PricedAt(net);
    }

    private decimal NetUpTo(decimal quantity) => Money.Round(Line.Net * quantity / Line.Line.Quantity);

    /// <summary>A shown amount is cut to whole coins; one that was never shown stays exact, so that whole groups add up again.</summary>
    private decimal GrossUpTo(decimal quantity)
    {
        var gross = Line.Gross * quantity / Line.Line.Quantity;
        return Line.Line.Shown is null ? gross : Money.Round(gross);
    }
}

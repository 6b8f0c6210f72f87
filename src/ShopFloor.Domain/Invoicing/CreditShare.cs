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
internal sealed record CreditShare(CreditableLine Line, decimal Before, decimal NetBefore, decimal Quantity)
{
    public decimal After => Before + Quantity;

    /// <summary>Whether nothing of the line is left after it.</summary>
    public bool IsWhole => After == Line.Line.Quantity;

    public bool IsDeduction => Deposits.IsDeduction(Line.Line);

    /// <summary>All that is left of the line.</summary>
    public CreditShare Completed => this with { Quantity = Line.Line.Quantity - Before };

    public decimal GrossNow => GrossUpTo(After) - GrossUpTo(Before);

    /// <summary>Only a note for the whole has allowances and charges of its own: it credits every line and charge.</summary>
    public static CreditShare Of(CreditableLine line, IReadOnlyList<IssuedInvoice> earlier, decimal quantity)
    {
        if (earlier.Any(n => n.Content.Adjustments.Count > 0))
            return new(line, line.Line.Quantity, line.Net, quantity);
        var credited = earlier
            .SelectMany(n => n.Content.Lines)
            .Where(l => string.Equals(l.Id, line.Line.Id, StringComparison.Ordinal))
            .ToList();
        return new(line, credited.Sum(l => l.Quantity), credited.Sum(l => l.Net()), quantity);
    }

    public IEnumerable<Refusal> Check()
    {
        var (whole, id) = (Line.Line.Quantity, Line.Line.Id);
        if (IsDeduction && Quantity != 0m)
            yield return new(
                "credit-deduction",
                "The deposit that was taken off is given back with the last of the invoice, not by itself.",
                id
            );
        else if (Math.Sign(Quantity) == -Math.Sign(whole) && Quantity != 0m)
            yield return new("credit-sign", $"Line {id} can only be credited with the sign it has on the invoice.", id);
        else if (Math.Abs(After) > Math.Abs(whole))
            yield return new(
                "credit-too-much",
                string.Create(CultureInfo.InvariantCulture, $"Of line {id} {whole - Before:0.####} of {whole:0.####} are left to credit."),
                id
            );
        else if (Line.Line.Unit is UnitCodes.Piece or UnitCodes.One && Quantity != decimal.Truncate(Quantity) && !IsWhole)
            yield return new("credit-fraction", "Only whole pieces are taken back: enter 1, 2 and so on.", id);
    }

    /// <summary>Prices without tax: each line is credited by the difference of its running sums.</summary>
    public static IReadOnlyList<InvoiceLine> NetLines(IReadOnlyList<CreditShare> shares) =>
        [.. shares.Where(s => s.Quantity != 0m).Select(s => s.ToLine(s.NetUpTo(s.After) - s.NetUpTo(s.Before)))];

    /// <summary>Prices with tax: each tax group is credited up to its running net, less what earlier notes gave, and that is spread over its lines.</summary>
    public static IReadOnlyList<InvoiceLine> GrossLines(IReadOnlyList<CreditShare> shares)
    {
        Dictionary<string, InvoiceLine> lines = new(StringComparer.Ordinal);
        foreach (var group in shares.GroupBy(s => s.Line.Line.Tax))
        {
            var divisor = 1m + (group.Key.Percent / 100m);
            var net = Money.Round(group.Sum(s => s.GrossUpTo(s.After)) / divisor) - group.Sum(s => s.NetBefore);
            var now = group.Where(s => s.Quantity != 0m).ToList();
            // A quotient that should be a whole coin may end in …9999: its last digits are cut off so that it counts as one.
            var nets = Spread([.. now.Select(s => Math.Round(s.GrossNow / divisor, 12))], net);
            for (var i = 0; i < now.Count; i++)
                lines.Add(now[i].Line.Line.Id, now[i].ToLine(nets[i]));
        }
        return [.. shares.Where(s => s.Quantity != 0m).Select(s => lines[s.Line.Line.Id])];
    }

    // Halves are rounded away from zero, so running sums on both sides of zero can differ by a coin more than rounded lines reach: the
    // largest line takes that coin.
    private static decimal[] Spread(IReadOnlyList<decimal> exact, decimal net)
    {
        if (exact.Count == 0)
            return [];
        var least = exact.Sum(share => Math.Floor(share * 100m) / 100m);
        var broken = exact.Count(share => share * 100m != decimal.Truncate(share * 100m));
        var reached = Math.Clamp(net, least, least + broken * 0.01m);
        decimal[] nets = [.. Apportion.ByLargestRemainder(exact, reached, 2)];
        var coin = net - reached;
        if (coin != 0m)
            nets[Enumerable.Range(0, nets.Length).MaxBy(i => Math.Abs(nets[i]))] += coin;
        return nets;
    }

    private bool KeepsItsSign(decimal net) => Math.Sign(net) * Math.Sign(Quantity) >= 0;

    private InvoiceLine ToLine(decimal net)
    {
        var line = Line.Line;
        var part = line with { Quantity = Quantity, Adjustments = [], ListPrice = null, PriceDiscount = null };
        if (line.Shown is { } shown)
            part = part with { Shown = shown with { Amount = GrossNow } };
        // A line whose own charges or allowances outweigh its price has a net of the other sign: it is credited by them, for a price is not negative.
        if (!KeepsItsSign(net))
            return part with { Price = 0m, Adjustments = [new Adjustment(IsCharge: net > 0m, Math.Abs(net), "As invoiced")] };
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

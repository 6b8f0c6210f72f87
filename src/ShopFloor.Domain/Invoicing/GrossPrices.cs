using ShopFloor.Domain.Pricing;
using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Invoicing;

/// <summary>A line whose price the customer was shown with tax.</summary>
/// <param name="Id">Number of the line.</param>
/// <param name="Name">What it is.</param>
/// <param name="Quantity">Not zero; negative takes off.</param>
/// <param name="Unit">Code of UN/ECE Recommendation 20.</param>
/// <param name="UnitPrice">Price of one with tax, at least zero.</param>
/// <param name="Tax">Category and rate.</param>
public sealed record GrossLine(string Id, string Name, decimal Quantity, string Unit, decimal UnitPrice, TaxKind Tax)
{
    /// <summary>Taken off this line, 0 to 100.</summary>
    public decimal DiscountPercent { get; init; }

    /// <summary>More words, or null.</summary>
    public string? Description { get; init; }

    /// <summary>Material, size, picture and the like.</summary>
    public IReadOnlyList<ItemProperty> Properties { get; init; } = [];

    /// <summary>Quantity × price less discount, each rounded, with tax.</summary>
    public decimal Amount
    {
        get
        {
            var full = Money.Round(Quantity * UnitPrice);
            return full - Money.Round(full * DiscountPercent / 100m);
        }
    }
}

/// <summary>A discount on the whole that the customer was shown with tax.</summary>
/// <param name="Amount">Taken off, above zero, in whole cents, with tax.</param>
/// <param name="Tax">Category and rate that it falls under.</param>
/// <param name="Reason">Why.</param>
public sealed record GrossDiscount(decimal Amount, TaxKind Tax, string Reason);

/// <summary>Lines without tax, and the sum with tax that the customer was shown for them.</summary>
/// <param name="Lines">In the order given.</param>
/// <param name="Promised">What the customer was told to pay for them.</param>
public sealed record NetLines(IReadOnlyList<InvoiceLine> Lines, decimal Promised)
{
    /// <summary>Discounts on the whole, in the order given.</summary>
    public IReadOnlyList<DocumentAdjustment> Adjustments { get; init; } = [];
}

/// <summary>
/// Turns prices with tax into lines without, as EN 16931 knows no others. For each tax group the net sum is the shown sum ÷ (1 + rate), rounded once and
/// spread over the lines by largest remainder. The tax is then computed forward, as BR-CO-17 asks; where net and tax miss the shown sum by a cent
/// (in a share rate ÷ (1 + rate) of cases) <see cref="InvoiceDraft.Promising"/> puts it into the rounding of the amount due.
/// </summary>
public static class GrossPrices
{
    /// <summary>The lines without tax.</summary>
    public static NetLines ToNet(IReadOnlyList<GrossLine> lines)
    {
        var net = new InvoiceLine[lines.Count];
        foreach (var group in lines.Select((line, index) => (Line: line, Index: index)).GroupBy(p => p.Line.Tax))
        {
            var members = group.ToList();
            var shares = Spread([.. members.Select(m => m.Line.Amount)], group.Key);
            for (var i = 0; i < members.Count; i++)
                net[members[i].Index] = ToLine(members[i].Line, shares[i]);
        }
        return new NetLines(net, lines.Sum(l => l.Amount));
    }

    /// <summary>The lines without tax, and discounts on the whole that the customer was shown with tax.</summary>
    /// <param name="lines">The lines.</param>
    /// <param name="discounts">What is taken off, each under one kind of tax of the lines.</param>
    public static NetLines ToNet(IReadOnlyList<GrossLine> lines, IReadOnlyList<GrossDiscount> discounts)
    {
        var all = ToNet([.. lines, .. discounts.Select(d => new GrossLine("", d.Reason, -1m, UnitCodes.One, d.Amount, d.Tax))]);
        return all with
        {
            Lines = [.. all.Lines.Take(lines.Count)],
            Adjustments =
            [
                .. all
                    .Lines.Skip(lines.Count)
                    .Select(l => new DocumentAdjustment(new Adjustment(IsCharge: false, -l.Net(), l.Name), l.Tax)
                    {
                        Shown = -l.Shown!.Amount,
                    }),
            ],
        };
    }

    private static IReadOnlyList<decimal> Spread(IReadOnlyList<decimal> amounts, TaxKind tax)
    {
        var divisor = 1m + (tax.Percent / 100m);
        return Apportion.ByLargestRemainder([.. amounts.Select(a => a / divisor)], Money.Round(amounts.Sum() / divisor), 2);
    }

    private static InvoiceLine ToLine(GrossLine line, decimal net) =>
        new InvoiceLine(line.Id, line.Name, line.Quantity, line.Unit, 0m, line.Tax)
        {
            Description = line.Description,
            Properties = line.Properties,
            Shown = new ShownPrice(line.UnitPrice, line.DiscountPercent, line.Amount),
        }.PricedAt(net);
}

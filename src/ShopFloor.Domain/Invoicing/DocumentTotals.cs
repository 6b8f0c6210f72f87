using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Invoicing;

/// <summary>Taxable amount and tax of one category and rate (BG-23).</summary>
/// <param name="Kind">Category and rate (BT-118, BT-119).</param>
/// <param name="Taxable">BT-116.</param>
/// <param name="Tax">BT-117.</param>
public sealed record TaxGroup(TaxKind Kind, decimal Taxable, decimal Tax);

/// <summary>
/// The sums of a document by EN 16931. All are in the document's currency with two decimals, also where the currency has no such coin: there the
/// rounding of the amount due brings it to whole coins.
/// </summary>
/// <param name="Lines">BT-106, sum of the lines' net amounts.</param>
/// <param name="Allowances">BT-107, or null when there are none.</param>
/// <param name="Charges">BT-108, or null when there are none.</param>
/// <param name="WithoutTax">BT-109.</param>
/// <param name="Tax">BT-110.</param>
/// <param name="WithTax">BT-112.</param>
/// <param name="Paid">BT-113.</param>
/// <param name="Rounding">BT-114.</param>
/// <param name="Due">BT-115.</param>
/// <param name="Groups">BG-23, taxed groups by falling rate, then the others.</param>
public sealed record DocumentTotals(
    decimal Lines,
    decimal? Allowances,
    decimal? Charges,
    decimal WithoutTax,
    decimal Tax,
    decimal WithTax,
    decimal Paid,
    decimal Rounding,
    decimal Due,
    IReadOnlyList<TaxGroup> Groups
)
{
    /// <summary>What the document comes to before payments: with tax and rounding.</summary>
    public decimal Payable => WithTax + Rounding;

    /// <summary>Adds up a document.</summary>
    /// <param name="lines">Its lines.</param>
    /// <param name="adjustments">Allowances and charges on the whole.</param>
    /// <param name="paid">Already paid on account (BT-113).</param>
    /// <param name="rounding">Added to the amount due (BT-114).</param>
    /// <param name="where">Where the tax is rounded; EN 16931 knows only per group.</param>
    public static DocumentTotals Of(
        IReadOnlyList<InvoiceLine> lines,
        IReadOnlyList<DocumentAdjustment> adjustments,
        decimal paid = 0m,
        decimal rounding = 0m,
        TaxRounding where = TaxRounding.PerGroup
    )
    {
        var sum = lines.Sum(l => l.Net());
        var allowances = SumOf(adjustments, charges: false);
        var charges = SumOf(adjustments, charges: true);
        var withoutTax = sum - (allowances ?? 0m) + (charges ?? 0m);
        var groups = Group(lines, adjustments, where);
        var tax = groups.Sum(g => g.Tax);
        var withTax = withoutTax + tax;
        return new(sum, allowances, charges, withoutTax, tax, withTax, paid, rounding, withTax - paid + rounding, groups);
    }

    private static decimal? SumOf(IReadOnlyList<DocumentAdjustment> adjustments, bool charges)
    {
        var chosen = adjustments.Where(a => a.Adjustment.IsCharge == charges).ToList();
        return chosen.Count == 0 ? null : chosen.Sum(a => a.Adjustment.Amount);
    }

    private static List<TaxGroup> Group(
        IReadOnlyList<InvoiceLine> lines,
        IReadOnlyList<DocumentAdjustment> adjustments,
        TaxRounding where
    ) =>
        [
            .. lines
                .Select(l => (Kind: l.Tax, Amount: l.Net()))
                .Concat(adjustments.Select(a => (Kind: a.Tax, Amount: a.Adjustment.Signed)))
                .GroupBy(p => p.Kind, p => p.Amount)
                .Select(g => new TaxGroup(
                    g.Key,
                    g.Sum(),
                    where == TaxRounding.PerGroup ? g.Key.TaxOn(g.Sum()) : g.Sum(a => g.Key.TaxOn(a))
                ))
                .OrderBy(g => g.Kind.Category)
                .ThenByDescending(g => g.Kind.Percent),
        ];
}

/// <summary>Rounding of the amount to pay in cash.</summary>
public static class CashRounding
{
    /// <summary>What must be added so that the amount is a multiple of the step, half away from zero: 999.81 to whole crowns gives +0.19.</summary>
    /// <param name="amount">Exact amount to pay.</param>
    /// <param name="step">E.g. 0.05 or 1; 0 for no rounding.</param>
    public static decimal Difference(decimal amount, decimal step) => step == 0m ? 0m : (Money.Round(amount / step, 0) * step) - amount;
}

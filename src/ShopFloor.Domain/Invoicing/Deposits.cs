using ShopFloor.Domain.Pricing;
using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Invoicing;

/// <summary>
/// Deposits, in the two ways a workshop may have to treat them. Without a tax document the sum paid goes into <see cref="InvoiceDraft.Paid"/>. With a
/// deposit invoice of its own the final invoice takes the deposit off line by line, so that its tax is not charged twice. Never both for one deposit.
/// </summary>
public static class Deposits
{
    /// <summary>Lines of a deposit invoice: one for each tax group of the order, cut by what the group comes to.</summary>
    /// <param name="groups">The order's tax groups, after discounts.</param>
    /// <param name="amount">The deposit, above zero; with tax when the settings say that prices include it, else without.</param>
    /// <param name="pricesIncludeTax">Whether the amount includes tax.</param>
    /// <param name="name">What it is called, with the order's code.</param>
    public static NetLines Lines(IReadOnlyList<TaxGroup> groups, Money amount, bool pricesIncludeTax, string name)
    {
        var shares = Apportion.ByWeight(amount, [.. groups.Select(g => Math.Max(0m, g.Taxable + (pricesIncludeTax ? g.Tax : 0m)))]);
        var parts = groups.Select((g, i) => (g.Kind, shares[i].Amount)).Where(p => p.Amount != 0m).ToList();
        string Named(TaxKind kind) => parts.Count > 1 ? WithRate(name, kind) : name;
        if (pricesIncludeTax)
            return GrossPrices.ToNet([
                .. parts.Select((p, i) => new GrossLine($"{i + 1}", Named(p.Kind), 1m, UnitCodes.One, p.Amount, p.Kind)),
            ]);
        var lines = parts.Select((p, i) => new InvoiceLine($"{i + 1}", Named(p.Kind), 1m, UnitCodes.One, p.Amount, p.Kind)).ToList();
        return new NetLines(lines, DocumentTotals.Of(lines, []).WithTax);
    }

    /// <summary>Whether a line takes a deposit off, as <see cref="Deduct"/> writes it.</summary>
    public static bool IsDeduction(InvoiceLine line) => line.Quantity < 0m && line.Id.StartsWith('D');

    /// <summary>
    /// The final invoice with deposit invoices taken off: for each of their tax groups one line D1, D2 … of quantity −1 at the deposit's net, and a reference.
    /// Where prices include tax the amount due stays what was shown less what the deposits came to.
    /// </summary>
    /// <param name="final">The draft with all that was ordered.</param>
    /// <param name="deposits">Issued deposit invoices that no credit note has taken back.</param>
    /// <param name="name">Name of the line for a deposit, e.g. from its number.</param>
    public static InvoiceDraft Deduct(InvoiceDraft final, IReadOnlyList<IssuedInvoice> deposits, Func<IssuedInvoice, string> name)
    {
        var gross = final.Settings.PricesIncludeTax;
        List<InvoiceLine> lines = [.. final.Lines];
        foreach (var deposit in deposits)
        {
            var groups = deposit.Totals.Groups.Where(g => g.Taxable != 0m).ToList();
            lines.AddRange(
                groups
                    .Select(
                        (g, i) =>
                            new InvoiceLine(
                                $"D{lines.Count - final.Lines.Count + i + 1}",
                                groups.Count > 1 ? WithRate(name(deposit), g.Kind) : name(deposit),
                                -1m,
                                UnitCodes.One,
                                g.Taxable,
                                g.Kind
                            )
                            {
                                Shown = gross ? Shown(deposit, g) : null,
                            }
                    )
                    .ToList()
            );
        }
        var deducted = final with { Lines = lines, Preceding = [.. final.Preceding, .. deposits.Select(d => d.Reference)] };
        return gross ? deducted.Promising(final.Totals().Payable - deposits.Sum(d => d.Totals.Payable)) : deducted;
    }

    /// <summary>Several lines of one deposit are told apart by their rate.</summary>
    private static string WithRate(string name, TaxKind kind) =>
        string.Create(CultureInfo.InvariantCulture, $"{name}, {kind.Percent:0.####} %");

    /// <summary>What the deposit invoice showed for a tax group; a cent that net and tax cannot reach is in it, as it was in what was asked for.</summary>
    private static ShownPrice Shown(IssuedInvoice deposit, TaxGroup group)
    {
        var lines = deposit.Content.Lines.Where(l => l.Tax == group.Kind).ToList();
        var amount = lines.TrueForAll(l => l.Shown is not null) ? lines.Sum(l => l.Shown!.Amount) : group.Taxable + group.Tax;
        return new ShownPrice(amount, 0m, -amount);
    }
}

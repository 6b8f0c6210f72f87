using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Invoicing;

/// <summary>Why a tax is, or is not, charged: the categories of UNTDID 5305 that EN 16931 allows.</summary>
public enum TaxCategory
{
    /// <summary>S: taxed at a rate above zero, reduced rates included.</summary>
    Standard,

    /// <summary>Z: taxed at a rate of zero.</summary>
    ZeroRated,

    /// <summary>E: exempt, as small businesses often are; the reason must be given.</summary>
    Exempt,

    /// <summary>AE: the buyer owes the tax (reverse charge).</summary>
    ReverseCharge,

    /// <summary>K: goods to a taxable buyer in another state of the Union.</summary>
    IntraUnion,

    /// <summary>G: goods leaving the Union.</summary>
    Export,

    /// <summary>O: not subject to the tax at all.</summary>
    OutsideScope,

    /// <summary>B: taxed, the tax being paid to the authority by the buyer (Italy only). Computed, but not offered for the shop's own invoices.</summary>
    SplitPayment,
}

/// <summary>Category and rate: the key of a tax group. Rates are compared as numbers, so 25 and 25.00 are one group.</summary>
/// <param name="Category">Why the tax is, or is not, charged.</param>
/// <param name="Percent">0 to 100; 0 for every category but <see cref="TaxCategory.Standard"/> and <see cref="TaxCategory.SplitPayment"/>.</param>
public readonly record struct TaxKind(TaxCategory Category, decimal Percent)
{
    /// <summary>Taxed at a rate.</summary>
    public static TaxKind Standard(decimal percent) => new(TaxCategory.Standard, percent);

    /// <summary>True when tax is added at the rate (S and B).</summary>
    public bool IsTaxed => Category is TaxCategory.Standard or TaxCategory.SplitPayment;

    /// <summary>Tax on an amount of this kind: EN 16931 BR-CO-17 for the taxed categories, 0 for the others.</summary>
    /// <param name="taxable">Taxable amount, any sign.</param>
    public decimal TaxOn(decimal taxable) => IsTaxed ? Money.Round(taxable * Percent / 100m) : 0m;
}

/// <summary>Codes of the categories.</summary>
public static class TaxCategoryCodes
{
    private static readonly string[] Codes = ["S", "Z", "E", "AE", "K", "G", "O", "B"];

    private static readonly string[] Parts = ["S", "Z", "E", "AE", "IC", "G", "O", "B"];

    /// <summary>The code of UNTDID 5305, e.g. <c>AE</c>.</summary>
    public static string Code(this TaxCategory category) => Codes[(int)category];

    /// <summary>How EN 16931 names the category in the ids of its rules, e.g. <c>IC</c> in BR-IC-02.</summary>
    public static string RulePart(this TaxCategory category) => Parts[(int)category];

    /// <summary>The category of a code.</summary>
    /// <exception cref="ArgumentException">No category has this code.</exception>
    public static TaxCategory FromCode(string code)
    {
        var index = Array.IndexOf(Codes, code);
        return index >= 0 ? (TaxCategory)index : throw new ArgumentException($"No tax category has the code {code}.", nameof(code));
    }

    /// <summary>True when the invoice must say why no tax is charged (BR-E-10, BR-AE-10, BR-IC-10, BR-G-10, BR-O-10).</summary>
    public static bool NeedsReason(this TaxCategory category) =>
        category
            is TaxCategory.Exempt
                or TaxCategory.ReverseCharge
                or TaxCategory.IntraUnion
                or TaxCategory.Export
                or TaxCategory.OutsideScope;
}

namespace ShopFloor.Domain.Orders;

/// <summary>One visible part of a price.</summary>
/// <param name="Code">Stable machine name.</param>
/// <param name="Name">In plain words.</param>
/// <param name="Amount">For the whole line.</param>
public sealed record AgreedPart(string Code, string Name, decimal Amount)
{
    /// <summary>Quantities and rates it was computed from, as they were then; empty for orders that were booked before it was kept.</summary>
    public string Basis { get; init; } = "";
}

/// <summary>The price of a line as it was shown and agreed. Nothing that changes later touches it.</summary>
/// <param name="Parts">
/// Its parts, as shown: they sum to <see cref="Net"/>, and where the customer was shown it with tax to <see cref="Gross"/>, the tax being one of them.
/// </param>
/// <param name="Net">Without tax, for the whole line.</param>
/// <param name="TaxPercent">Rate at booking.</param>
/// <param name="TaxCategory">Category letter at booking.</param>
/// <param name="Gross">With tax.</param>
/// <param name="Hash">Fingerprint of the shown price.</param>
/// <param name="OverrideReason">Why a person set another price.</param>
public sealed record AgreedPrice(
    IReadOnlyList<AgreedPart> Parts,
    decimal Net,
    decimal TaxPercent,
    string TaxCategory,
    decimal Gross,
    string Hash,
    string? OverrideReason
)
{
    /// <summary>Whether the customer was shown it with tax; null in orders that were booked before this was kept.</summary>
    public bool? WithTax { get; init; }

    /// <summary>No price.</summary>
    public static AgreedPrice Nothing { get; } = new([], 0, 0, "", 0, "", null);
}

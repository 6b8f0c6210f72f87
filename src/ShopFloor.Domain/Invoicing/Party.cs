namespace ShopFloor.Domain.Invoicing;

/// <summary>A postal address.</summary>
/// <param name="Street">First line, or null.</param>
/// <param name="Extra">Second line, or null.</param>
/// <param name="City">Town, or null.</param>
/// <param name="PostCode">Post code, or null.</param>
/// <param name="Region">Part of the country where the post needs it, or null.</param>
/// <param name="Country">ISO 3166-1 letters, e.g. <c>IE</c>.</param>
public sealed record PostalAddress(string? Street, string? Extra, string? City, string? PostCode, string? Region, string Country);

/// <summary>Who sells or buys, as of the day of the document.</summary>
/// <param name="Name">Legal name (BT-27, BT-44).</param>
/// <param name="Address">Where they are (BG-5, BG-8).</param>
/// <param name="TradingName">Name over the door when it is another (BT-28, BT-45), or null.</param>
/// <param name="Id">Customer or supplier number (BT-29, BT-46), or null.</param>
/// <param name="RegisterId">Number in the trade register (BT-30, BT-47), or null.</param>
/// <param name="VatId">Number for the tax with the country's letters (BT-31, BT-48), or null.</param>
/// <param name="TaxNumber">Other tax registration of a seller (BT-32), or null.</param>
/// <param name="Email">Mail address, or null.</param>
/// <param name="Phone">Telephone, or null.</param>
/// <param name="Contact">Whom to ask, or null.</param>
public sealed record Party(
    string Name,
    PostalAddress Address,
    string? TradingName = null,
    string? Id = null,
    string? RegisterId = null,
    string? VatId = null,
    string? TaxNumber = null,
    string? Email = null,
    string? Phone = null,
    string? Contact = null
)
{
    /// <summary>The party where its number for the tax must not stand: BR-O-02, outside the tax.</summary>
    public Party WithoutVatId() => (this with { VatId = null }).Identified();

    /// <summary>The party with its tax number for its identifier where nothing else names it: BR-CO-26 counts no tax number.</summary>
    public Party Identified() =>
        string.IsNullOrWhiteSpace(VatId) && string.IsNullOrWhiteSpace(RegisterId) && string.IsNullOrWhiteSpace(Id)
            ? this with
            {
                Id = TaxNumber,
            }
            : this;
}

/// <summary>How the buyer is asked to pay, or has paid.</summary>
/// <param name="Code">UNTDID 4461, see <see cref="PaymentMeansCodes"/>.</param>
/// <param name="Account">Account number for a transfer (BT-84), or null.</param>
/// <param name="AccountName">Whose account (BT-85), or null.</param>
/// <param name="Bank">Bank's identifier (BT-86), or null.</param>
/// <param name="Reference">What the payer shall write (BT-83), or null for the document's number.</param>
/// <param name="InWords">The account of a country without IBAN, for the paper alone; the e-invoice leaves it out. Null: none.</param>
public sealed record PaymentMeans(
    string Code,
    string? Account = null,
    string? AccountName = null,
    string? Bank = null,
    string? Reference = null,
    string? InWords = null
)
{
    /// <summary>True when an account must be given (BR-61).</summary>
    public bool NeedsAccount => InWords is null && Code is PaymentMeansCodes.Transfer or PaymentMeansCodes.SepaTransfer;

    /// <summary>Whether it says where to transfer to.</summary>
    public bool NamesAccount => (Account ?? InWords) is not null;
}

/// <summary>Codes of UNTDID 4461 that a workshop needs. The codes are in BR-CL-16; their meaning is from memory.</summary>
public static class PaymentMeansCodes
{
    /// <summary>Cash.</summary>
    public const string Cash = "10";

    /// <summary>Credit transfer.</summary>
    public const string Transfer = "30";

    /// <summary>Card of any kind.</summary>
    public const string Card = "48";

    /// <summary>SEPA credit transfer.</summary>
    public const string SepaTransfer = "58";

    /// <summary>Settled against another document.</summary>
    public const string Clearing = "97";
}

/// <summary>When and to where the goods went.</summary>
/// <param name="Date">Day of supply (BT-72), or null when not yet or not one day.</param>
/// <param name="To">Address of delivery (BG-15) when it is not the buyer's, or null.</param>
public sealed record Delivery(DateOnly? Date, PostalAddress? To = null);

/// <summary>An earlier document that this one follows (BG-3).</summary>
/// <param name="Number">Its number (BT-25).</param>
/// <param name="Date">Its date (BT-26).</param>
public sealed record PrecedingDocument(string Number, DateOnly Date);

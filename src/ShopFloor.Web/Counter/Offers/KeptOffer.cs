using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using ShopFloor.Data;
using ShopFloor.Documents.Letters;
using ShopFloor.Domain.Pricing;
using ShopFloor.Web.Counter.Booking;

namespace ShopFloor.Web.Counter.Offers;

/// <summary>What was offered for an entry before it is booked, as it stands on its paper. It is kept with the entry; a new offer takes its place.</summary>
/// <param name="Number">Of its own series, none of an invoice.</param>
/// <param name="Paper">What stands on it.</param>
/// <param name="Prices">Of each line, as offered.</param>
/// <param name="Asked">Fingerprint of what was offered: it does not hold for anything else.</param>
/// <param name="Name">For whom.</param>
/// <param name="Language">Of the paper, two letters.</param>
public sealed record KeptOffer(
    string Number,
    OrderPaper Paper,
    IReadOnlyList<PriceBreakdown> Prices,
    string Asked,
    string Name,
    string Language
)
{
    /// <summary>Stands in the JSON of an entry with an offer and in no other: quotation marks that were typed are written in another way.</summary>
    public const string Mark = "\"offer\":{";

    /// <summary>The last day on which its prices hold, of the shop.</summary>
    public DateOnly Until => Paper.ValidUntil ?? Paper.Date;

    /// <summary>What it comes to, as customers are shown prices.</summary>
    public decimal Total => Prices.Sum(p => p.LineTotal.Amount);

    /// <summary>Fingerprint of all that a price depends on. Texts, the picture itself, the contact and the wanted day may still change.</summary>
    public static string AskedOf(OrderInput order)
    {
        var lines = order.Lines.Select(l => new
        {
            Piece = l.Piece with
            {
                Note = "",
            },
            l.Quantity,
            l.Finish,
            l.SecondSide,
            l.Placement.Fit,
            l.Placement.Share,
            l.PriceByHand,
            l.PriceReason,
        });
        var asked = JsonSerializer.Serialize(
            new
            {
                order.Customer,
                order.IsRush,
                lines,
            },
            JsonForms.Default
        );
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(asked)))[..32];
    }
}

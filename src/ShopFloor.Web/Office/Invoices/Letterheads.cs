using ShopFloor.Documents.Imaging;
using ShopFloor.Documents.Letters;
using ShopFloor.Documents.Pdf;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>The head of the workshop's letters: its data, and its logo where it has one.</summary>
public sealed class Letterheads(PictureFolder pictures) : IPageView
{
    /// <summary>The head as it holds by these settings.</summary>
    /// <param name="settings">As they hold on the day of the letter.</param>
    /// <param name="seller">Who sends it; a document that was issued keeps the sender of its day.</param>
    /// <param name="reader">Who reads the letter.</param>
    public Letterhead Of(CurrentSettings settings, Party seller, LetterReader reader) =>
        new(
            seller.Name,
            Lines(seller.Address.Street, $"{seller.Address.PostCode} {seller.Address.City}", reader.Country(seller.Address.Country)),
            Lines(seller.Phone, seller.Email),
            Lines(
                seller.VatId is { Length: > 0 } id ? reader.Say("VAT no. {0}", id) : null,
                seller.TaxNumber is { Length: > 0 } tax ? reader.Say("Tax no. {0}", tax) : null,
                seller.RegisterId
            )
        )
        {
            Logo = Logo(settings),
        };

    // Without its file the letter goes out under the name in large type: an invoice does not wait for a picture.
    private PdfPicture? Logo(CurrentSettings settings) =>
        settings.Logo.Picture is { } id && pictures.Has(id) ? PrintPicture.Of(pictures.Clean(id)) : null;

    private static List<string> Lines(params string?[] lines) =>
        [.. lines.Where(l => !string.IsNullOrWhiteSpace(l)).Select(l => l!.Trim())];
}

using Microsoft.Extensions.Localization;
using ShopFloor.Documents.Imaging;
using ShopFloor.Documents.Pdf;
using ShopFloor.Documents.Sheets;
using ShopFloor.Domain.Pictures;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Counter.Pictures;

namespace ShopFloor.Web.Counter.Proofs;

/// <summary>A line that is proved.</summary>
/// <param name="Number">1, 2, 3 …</param>
/// <param name="Entry">The line as it can be drawn.</param>
/// <param name="Finish">How it will look.</param>
/// <param name="Ground">Colour of what is not printed, as style sheets write it.</param>
public sealed record ProvedLine(int Number, LineEntry Entry, Finish Finish, string Ground);

/// <summary>
/// The proof of an order as a paper, where its lines have lists of texts: each piece as it will look, and all texts in full. It lays
/// pictures and texts by what lays them on the print sheet, and it speaks the language of the thread.
/// </summary>
public sealed class ProofPaper(PictureViews pictures, PictureDoor door, TimeProvider time, IStringLocalizer<CounterTexts> texts) : IPageView
{
    // Enough for a face a hand wide at 300 ppi.
    private const int PictureSide = 1200;

    /// <summary>Whether an order needs it: without a list, one drawing of each line says all.</summary>
    public static bool IsNeeded(IEnumerable<LineEntry> lines) => lines.Any(l => EntryReading.Texts(l).Count > 1);

    /// <summary>The file.</summary>
    /// <param name="order">Number of the order.</param>
    /// <param name="lines">The lines with a picture or a text.</param>
    /// <param name="rules">By what pictures and texts are laid.</param>
    /// <param name="cancel">Ends the making.</param>
    public async Task<byte[]> MakeAsync(int order, IReadOnlyList<ProvedLine> lines, PrintRules rules, CancellationToken cancel = default)
    {
        List<ProofPart> parts = [];
        foreach (var line in lines)
            if (EntryReading.FaceMillimetres(line.Entry, LengthUnit.Millimetre) is { } face)
                parts.Add(Part(line, face, rules, await PictureAsync(line, rules, cancel)));
        var words = new ProofWords
        {
            Title = texts["Proof of order {0}", order],
            Note = texts["Each piece as it will look, seen from the front. A screen is not a print: colours may differ a little."],
            Scale = texts["Drawn at {0} % of its size."].Value,
            List = texts["All texts, to check the spelling"],
            Number = texts["Piece"],
            Text = texts["Text"],
        };
        var language = CultureInfo.CurrentUICulture.TwoLetterISOLanguageName;
        return ProofSheets.Draw(parts, words, new PaperFacts(words.Title, time.GetUtcNow().UtcDateTime, language, Tagged: true)).ToBytes();
    }

    private ProofPart Part(ProvedLine line, (double Wide, double High) face, PrintRules rules, TransferPicture? picture)
    {
        var (entry, ground) = (line.Entry, InkOf(line.Ground));
        var outline = SeenText.OutlineOf(entry, LengthUnit.Millimetre, face.Wide, face.High);
        var fit = TextFit.Of(entry, LengthUnit.Millimetre, rules);
        ProofFace Laid(string text)
        {
            var laid = FaceText.On(outline, text, entry.Picture is not null, entry.LightLetters, rules.MarginMm);
            var ink = entry.LightLetters ? ground : laid.Style.Ink;
            return new ProofFace(laid with { Style = laid.Style with { Ink = ink } }, string.Join(", ", Marks(text, fit)));
        }
        return new ProofPart(texts["Line {0}", line.Number], outline, ground)
        {
            Picture = picture,
            Faces = fit.Texts.Count > 0 ? [.. fit.Texts.Select(Laid)] : [new ProofFace(null)],
        };
    }

    private IEnumerable<string> Marks(string text, TextFit fit)
    {
        if (fit.MarkOf(text) is { } small)
            yield return texts[small.Fits ? "small letters" : "does not fit"];
        // They are drawn as □, on this paper too: to name them here would show nothing.
        if (TypeFaces.Missing(text).Count > 0)
            yield return texts["letters that cannot be printed"];
    }

    private async Task<TransferPicture?> PictureAsync(ProvedLine line, PrintRules rules, CancellationToken cancel)
    {
        if (line.Entry.Picture is not { } kept || !pictures.Has(kept.Id))
            return null;
        if (LaidPicture.Of(line.Entry, LengthUnit.Millimetre, rules) is not { } laid)
            return null;
        var made = await pictures.MakeAsync(kept.Id, line.Finish, line.Entry.Material, PictureSide, cancel, CopyFormat.Jpeg);
        if (!made.IsOk || door.Head(made.Value) is not { IsOk: true, Value: var head })
            return null;
        var copy = PrintPicture.Of(head, () => made.Value);
        var (across, down) = ((double)kept.Wide / copy.WidthPx, (double)kept.High / copy.HeightPx);
        var to = laid.Placed.PixelToFace;
        return new TransferPicture(copy, to with { Xx = to.Xx * across, Yx = to.Yx * across, Xy = to.Xy * down, Yy = to.Yy * down });
    }

    private static Ink InkOf(string css)
    {
        var rgb = Convert.FromHexString(css.AsSpan(1));
        return new Ink(rgb[0], rgb[1], rgb[2]);
    }
}

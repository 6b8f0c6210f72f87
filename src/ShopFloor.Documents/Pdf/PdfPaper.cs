using PdfSharp.Pdf;
using PdfSharp.UniversalAccessibility;

namespace ShopFloor.Documents.Pdf;

/// <summary>What a document says about itself.</summary>
/// <param name="Title">Shown in the title bar of a reader.</param>
/// <param name="MadeAtUtc">When it was made.</param>
/// <param name="Language">Language tag of the text, such as <c>en</c>.</param>
/// <param name="Author">The workshop, or empty.</param>
/// <param name="Tagged">Carry a reading order with headings, paragraphs and tables for screen readers.</param>
public sealed record PaperFacts(string Title, DateTime MadeAtUtc, string Language = "en", string Author = "", bool Tagged = false);

/// <summary>
/// One PDF document, made sheet by sheet and saved once. The only place that knows the PDF library.
/// Pictures are not held in memory: their bytes flow from their source into the file when it is saved.
/// Not for use by two threads at once; any number of documents may be made side by side.
/// </summary>
public sealed class PdfPaper
{
    private readonly PdfDocument document = new();
    private readonly List<string> missing = [];
    private readonly Dictionary<PdfPicture, PlacedPicture> pictures = [];
    private readonly PdfDictionary screenColour;
    private readonly PdfDictionary screenGrey;
    private readonly StructureBuilder? structure;
    private PdfSheet? open;

    /// <summary>An empty document.</summary>
    public PdfPaper(PaperFacts facts)
    {
        Facts = facts;
        document.Options.FlateEncodeMode = PdfFlateEncodeMode.BestSpeed;
        document.Options.ColorMode = PdfColorMode.Rgb;
        document.Info.Title = facts.Title;
        document.Info.Author = facts.Author;
        document.Info.Creator = "ShopFloor";
        document.Info.CreationDate = DateTime.SpecifyKind(facts.MadeAtUtc, DateTimeKind.Utc);
        document.Language = facts.Language;
        if (facts.Tagged)
        {
            var manager = UAManager.ForDocument(document);
            manager.SetDocumentLanguage(facts.Language);
            structure = manager.StructureBuilder;
        }
        screenColour = Profile(IccProfile.Srgb, 3);
        screenGrey = Profile(IccProfile.SrgbGrey, 1);
    }

    /// <summary>What the document says about itself.</summary>
    public PaperFacts Facts { get; }

    /// <summary>Number of sheets so far.</summary>
    public int SheetCount { get; private set; }

    /// <summary>Characters that the fonts lack and that were drawn as □, each once.</summary>
    public IReadOnlyList<string> MissingCharacters => [.. missing.Distinct(StringComparer.Ordinal)];

    internal ICollection<string> Missing => missing;

    internal StructureBuilder? Structure => structure;

    /// <summary>Begins a new sheet; the one before is finished by it.</summary>
    public PdfSheet AddSheet(SizeMm size)
    {
        if (size is not { Width: > 0 and < 5000, Height: > 0 and < 5000 })
            throw new ArgumentOutOfRangeException(nameof(size), size, "A sheet is over 0 and under 5000 mm long.");
        open?.Finish();
        SheetCount++;
        var page = document.AddPage();
        page.Width = PdfSharp.Drawing.XUnit.FromPoint(PdfUnit.Points(size.Width));
        page.Height = PdfSharp.Drawing.XUnit.FromPoint(PdfUnit.Points(size.Height));
        TagColours(page);
        open = new PdfSheet(this, page, size);
        return open;
    }

    /// <summary>Saves the document; nothing can be added afterwards.</summary>
    public void SaveTo(Stream target)
    {
        open?.Finish();
        if (SheetCount == 0)
            throw new InvalidOperationException("A document without a sheet cannot be saved.");
        using var body = new MemoryStream();
        document.Save(body, closeStream: false);
        var file = new PictureAppendix(body.GetBuffer().AsMemory(0, (int)body.Length), target);
        file.Write(pictures.Values, screenColour.Reference!.ObjectNumber, screenGrey.Reference!.ObjectNumber);
    }

    /// <summary>Saves the document into memory.</summary>
    public byte[] ToBytes()
    {
        using var target = new MemoryStream();
        SaveTo(target);
        return target.ToArray();
    }

    internal PlacedPicture Place(PdfPicture picture)
    {
        if (!pictures.TryGetValue(picture, out var placed))
            pictures[picture] = placed = new PlacedPicture(picture);
        return placed;
    }

    private PdfDictionary Profile(byte[] bytes, int components)
    {
        var profile = new PdfDictionary(document);
        profile.Elements.SetInteger("/N", components);
        profile.CreateStream(bytes);
        document.Internals.AddObject(profile);
        return profile;
    }

    /// <summary>All plain RGB and grey on the page means sRGB (ISO 32000-1, 8.6.5.6: default colour spaces).</summary>
    private void TagColours(PdfPage page)
    {
        var spaces = new PdfDictionary(document);
        spaces.Elements["/DefaultRGB"] = new PdfArray(document, new PdfName("/ICCBased"), screenColour.Reference!);
        spaces.Elements["/DefaultGray"] = new PdfArray(document, new PdfName("/ICCBased"), screenGrey.Reference!);
        page.Resources.Elements["/ColorSpace"] = spaces;
    }
}

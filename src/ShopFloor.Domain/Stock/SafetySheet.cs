namespace ShopFloor.Domain.Stock;

/// <summary>The maker's safety data sheet of one lot of a coating, kept as it was sent.</summary>
public sealed class SafetySheet
{
    /// <summary>The most bytes that are kept of one.</summary>
    public const int MostBytes = 10_000_000;

    private SafetySheet() { }

    private SafetySheet(EntryId id, CoatingId coating, string lot, string name, byte[] content, DateTimeOffset at, string by)
    {
        (Id, Coating, Lot, Name, Content, At, By) = (id, coating, lot, name, content, at, by);
    }

    /// <summary>Names it.</summary>
    public EntryId Id { get; private set; }

    /// <summary>Of which coating.</summary>
    public CoatingId Coating { get; private set; }

    /// <summary>The maker's lot.</summary>
    public string Lot { get; private set; } = "";

    /// <summary>The file's name on the sender's device, for showing only, at most 120 characters.</summary>
    public string Name { get; private set; } = "";

    /// <summary>The file.</summary>
    public byte[] Content { get; private set; } = [];

    /// <summary>When it came, UTC.</summary>
    public DateTimeOffset At { get; private set; }

    /// <summary>Worker id.</summary>
    public string By { get; private set; } = "";

    /// <summary>A sheet, when the file is a PDF: it begins with a PDF's mark and ends with one.</summary>
    /// <returns>The sheet, or <c>file-large</c> or <c>file-no-pdf</c>.</returns>
    public static Result<SafetySheet> Create(
        EntryId id,
        (CoatingId Coating, string Lot) of,
        string name,
        byte[] content,
        (DateTimeOffset At, string By) sent
    )
    {
        if (content.Length > MostBytes)
            return new Refusal("file-large", "A safety data sheet has at most 10 MB.", "sheet");
        var tail = content.AsSpan(Math.Max(0, content.Length - 1024));
        if (!content.AsSpan().StartsWith("%PDF-"u8) || tail.IndexOf("%%EOF"u8) < 0)
            return new Refusal("file-no-pdf", "This file is no whole PDF. Ask the maker for the sheet as PDF.", "sheet");
        var shown = name.Trim() is { Length: > 0 } given ? given : "sheet.pdf";
        return new SafetySheet(id, of.Coating, of.Lot, shown.Length > 120 ? shown[^120..] : shown, content, sent.At, sent.By);
    }
}

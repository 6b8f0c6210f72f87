using ShopFloor.Documents.Pdf;
using ShopFloor.Documents.Sheets;

namespace ShopFloor.Web.Documents;

/// <summary>The papers of the workshop.</summary>
public enum PaperKind
{
    /// <summary>Labels for the pieces of an order; the subject is its number.</summary>
    Labels,

    /// <summary>The card of an oven load or a press session; the subject is its code.</summary>
    Card,

    /// <summary>Transfers of a press session (its code), of an order (its number) or of the sessions of a day (the day).</summary>
    Sheets,

    /// <summary>The plan of a day; the subject is the day.</summary>
    Day,

    /// <summary>The calibration page of a printer; the subject is the station's code.</summary>
    Calibration,
}

/// <summary>A paper that somebody wants to see or to print.</summary>
/// <param name="Kind">Which.</param>
/// <param name="Subject">Of what. Days are written <c>2026-05-04</c>, or <see cref="Today"/>.</param>
/// <param name="Form">Label size or paper; empty for the usual one.</param>
/// <param name="Tiles">Transfers that are larger than every paper are cut into tiles.</param>
public sealed record PaperWish(PaperKind Kind, string Subject, string Form = "", bool Tiles = false)
{
    /// <summary>From the parts of an address; null where there is no such paper.</summary>
    public static PaperWish? Read(string kind, string subject, string? form, bool? tiles) =>
        Enum.TryParse<PaperKind>(kind, ignoreCase: true, out var found) && Enum.IsDefined(found) && !char.IsAsciiDigit(kind[0])
            ? new PaperWish(found, subject, form ?? "", tiles ?? false)
            : null;

    /// <summary>Where it is looked at and printed.</summary>
    public string Address
    {
        get
        {
            List<string> choices = [];
            if (Form.Length > 0)
                choices.Add($"form={Uri.EscapeDataString(Form)}");
            if (Tiles)
                choices.Add("tiles=true");
            var path = $"/papers/{Kind.ToString().ToLowerInvariant()}/{Uri.EscapeDataString(Subject)}";
            return choices.Count == 0 ? path : $"{path}?{string.Join('&', choices)}";
        }
    }

    /// <summary>The page that shows it before it is printed.</summary>
    public string Page => $"/papers/{Kind.ToString().ToLowerInvariant()}/{Uri.EscapeDataString(Subject)}/look";

    /// <summary>Stands for the day on which it is asked.</summary>
    public const string Today = "today";

    /// <summary>How it stands in the journal: the same paper printed again has the same name, so it keeps its number.</summary>
    public string Name => $"{Kind} {Subject}".TrimEnd();

    /// <summary>The day it is of; null for other papers.</summary>
    public DateOnly? Day =>
        DateOnly.TryParseExact(Subject, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day) ? day : null;

    /// <summary>With the day spelled out.</summary>
    public PaperWish On(DateOnly today) =>
        (Subject, Kind) is (Today, PaperKind.Day or PaperKind.Sheets) ? this with { Subject = Written(today) } : this;

    /// <summary>A day as a subject.</summary>
    public static string Written(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}

/// <summary>Transfer paper that a print takes.</summary>
/// <param name="Size">The paper, e.g. <c>A4</c>.</param>
/// <param name="Count">Sheets; metres of a roll.</param>
public sealed record PaperSheets(string Size, decimal Count);

/// <summary>An order of which transfers are printed.</summary>
/// <param name="Id">Which.</param>
/// <param name="IsWhole">All transfers that it still needs are among them.</param>
public sealed record PrintedOrder(Guid Id, bool IsWhole)
{
    /// <summary>Codes of its pieces whose transfers are among them.</summary>
    public IReadOnlyList<string> Codes { get; init; } = [];
}

/// <summary>A paper that was made; its pictures are still in their files and are read one by one when it is written.</summary>
/// <param name="Wish">Which, with the day spelled out.</param>
/// <param name="Paper">The document, to be saved once.</param>
public sealed record MadePaper(PaperWish Wish, PdfPaper Paper)
{
    /// <summary>Transfer paper that printing it takes; empty for papers on plain paper.</summary>
    public IReadOnlyList<PaperSheets> Transfers { get; init; } = [];

    /// <summary>How well the transfers use their paper, group by group.</summary>
    public IReadOnlyList<PaperUse> Use { get; init; } = [];

    /// <summary>The orders whose transfers are on it.</summary>
    public IReadOnlyList<PrintedOrder> Orders { get; init; } = [];

    /// <summary>Why it can be looked at but must not be printed yet; empty when it may.</summary>
    public string NotYet { get; init; } = "";

    /// <summary>What is not on it and why, a sentence each.</summary>
    public IReadOnlyList<string> LeftOut { get; init; } = [];
}

namespace ShopFloor.Web.Documents;

/// <summary>The papers of the workshop.</summary>
public enum PaperKind
{
    /// <summary>Labels for the pieces of an order; the subject is its number.</summary>
    Labels,

    /// <summary>The card of an oven load or a press session; the subject is its code.</summary>
    Card,

    /// <summary>Transfers of a press session (its code) or of an order (its number).</summary>
    Sheets,

    /// <summary>The plan of the day; no subject.</summary>
    Day,

    /// <summary>The calibration page of a printer; the subject is the station's code.</summary>
    Calibration,
}

/// <summary>A paper that somebody wants to see or to print.</summary>
/// <param name="Kind">Which.</param>
/// <param name="Subject">Of what.</param>
/// <param name="Form">Label size or paper; empty for the usual one.</param>
public sealed record PaperWish(PaperKind Kind, string Subject, string Form = "")
{
    /// <summary>How it stands in the journal: the same paper printed again has the same name, so it keeps its number.</summary>
    public string Name => $"{Kind} {Subject}".TrimEnd();
}

/// <summary>Sheets of one paper that a print takes.</summary>
/// <param name="Size">The paper, e.g. <c>A4</c>.</param>
/// <param name="Count">Sheets.</param>
public sealed record PaperSheets(string Size, int Count);

/// <summary>A paper that was made.</summary>
/// <param name="Bytes">The PDF.</param>
/// <param name="Transfers">Transfer paper that printing it takes; empty for papers on plain paper.</param>
public sealed record MadePaper(byte[] Bytes, IReadOnlyList<PaperSheets> Transfers);

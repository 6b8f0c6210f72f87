using ShopFloor.Documents.Pdf;

namespace ShopFloor.Documents.Letters;

/// <summary>What the workshop prints on its letters.</summary>
/// <param name="Name">Name over the door.</param>
/// <param name="Address">Lines of its address.</param>
/// <param name="Contact">Telephone, mail and the like, one a line.</param>
/// <param name="Foot">Bottom of each page: register, tax number, bank; at most three lines are printed.</param>
public sealed record Letterhead(string Name, IReadOnlyList<string> Address, IReadOnlyList<string> Contact, IReadOnlyList<string> Foot)
{
    /// <summary>Logo, or null for the name in large type.</summary>
    public PdfPicture? Logo { get; init; }
}

/// <summary>Paper that letters are printed on.</summary>
public enum LetterPaper
{
    /// <summary>210 × 297 mm (ISO 216).</summary>
    A4,

    /// <summary>8½ × 11 inches (ANSI A).</summary>
    Letter,
}

/// <summary>A fact beside the address, such as number or due date.</summary>
public sealed record LetterFact(string Name, string Value);

/// <summary>One line of a letter's table.</summary>
/// <param name="Position">Number of the line.</param>
/// <param name="Name">What it is.</param>
/// <param name="Quantity">How many with unit, or empty.</param>
/// <param name="UnitPrice">Price of one, or empty.</param>
/// <param name="Amount">Amount, or empty.</param>
public sealed record LetterLine(string Position, string Name, string Quantity, string UnitPrice = "", string Amount = "")
{
    /// <summary>Small print below the name; empty for none.</summary>
    public string Note { get; init; } = "";

    /// <summary>What the line adds to the total carried over a page end.</summary>
    public decimal Carry { get; init; }
}

/// <summary>A line of the sums.</summary>
/// <param name="Label">What it is.</param>
/// <param name="Amount">How much.</param>
/// <param name="Strong">The one that the reader looks for.</param>
public sealed record LetterTotal(string Label, string Amount, bool Strong = false);

/// <summary>A letter with everything spelled out as it shall stand on paper.</summary>
/// <param name="Title">E.g. <c>Invoice 2026-0007</c>.</param>
/// <param name="To">Name and address of the reader, one line each.</param>
/// <param name="Facts">Facts beside the address.</param>
/// <param name="Lines">The table; may be empty.</param>
public sealed record Letter(string Title, IReadOnlyList<string> To, IReadOnlyList<LetterFact> Facts, IReadOnlyList<LetterLine> Lines)
{
    /// <summary>Words above the table; empty for none.</summary>
    public string Opening { get; init; } = "";

    /// <summary>Heading of the amounts, with the currency; empty when the letter shows no prices.</summary>
    public string AmountHeading { get; init; } = "";

    /// <summary>Heading of the price of one; empty when no line has one.</summary>
    public string PriceHeading { get; init; } = "";

    /// <summary>Sums below the table.</summary>
    public IReadOnlyList<LetterTotal> Totals { get; init; } = [];

    /// <summary>Paragraphs below.</summary>
    public IReadOnlyList<string> Closing { get; init; } = [];

    /// <summary>Lines to sign on, e.g. <c>Received in good order</c>.</summary>
    public IReadOnlyList<string> Signatures { get; init; } = [];

    /// <summary>Words across the head of each page that say that it is no valid paper; empty for none.</summary>
    public string Mark { get; init; } = "";

    /// <summary>For whom the writer's own words are: page numbers, carried totals.</summary>
    public LetterReader Reader { get; init; } = LetterReader.English;
}

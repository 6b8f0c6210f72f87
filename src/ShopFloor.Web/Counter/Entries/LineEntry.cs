using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Web.Counter.Entries;

/// <summary>One line while it is being entered, sizes and numbers as typed.</summary>
public sealed record LineEntry
{
    /// <summary>True: the customer's own piece; null: not said yet.</summary>
    public bool? IsOwn { get; init; }

    /// <summary>Short name of the stock blank that was chosen; empty: none, or only its measures are known.</summary>
    public string Blank { get; init; } = "";

    /// <summary>Key of the material, <c>unknown</c> for "I don't know", empty: not said yet.</summary>
    public string Material { get; init; } = "";
    public Form? Form { get; init; }
    public FaceShape Face { get; init; }
    public string Width { get; init; } = "";
    public string Height { get; init; } = "";
    public string Thickness { get; init; } = "";

    /// <summary>Wall of a hollow, open piece, as typed; empty: solid.</summary>
    public string Wall { get; init; } = "";
    public string Corner { get; init; } = "";
    public string Hole { get; init; } = "";

    /// <summary>Area of a free outline in cm², as typed.</summary>
    public string Area { get; init; } = "";
    public string Value { get; init; } = "";
    public string Note { get; init; } = "";

    /// <summary>Names of the hidden parts that are there.</summary>
    public IReadOnlyList<string> Hidden { get; init; } = [];

    /// <summary>Whether the questions about hidden parts were answered at all.</summary>
    public HiddenAnswer HiddenAnswer { get; init; }

    /// <summary>Whether old lacquer, paint, powder coat or wax is on it; null: not said yet.</summary>
    public Answer? OldCoat { get; init; }

    /// <summary>Photographs of the piece's condition.</summary>
    public IReadOnlyList<PictureId> Photos { get; init; } = [];
    public Finish? Finish { get; init; }
    public string Quantity { get; init; } = "1";

    /// <summary>The picture to print.</summary>
    public PictureEntry? Picture { get; init; }

    /// <summary>No picture now: it is brought later.</summary>
    public bool PictureLater { get; init; }
    public Framing Framing { get; init; } = Framing.Whole;

    /// <summary>A second side shall get a picture too; asked about after booking.</summary>
    public bool SecondSide { get; init; }

    /// <summary>One text on all pieces.</summary>
    public string Text { get; init; } = "";

    /// <summary>The text is left free of ink and shows the ground, instead of black letters.</summary>
    public bool LightLetters { get; init; }

    /// <summary>A text for each piece, one a line, as pasted.</summary>
    public string List { get; init; } = "";

    /// <summary>The first row of the list is a heading, of which no piece is made; null: not said, so it is by how it reads.</summary>
    public bool? ListHasHeading { get; init; }

    /// <summary>Whether the first row of the list is left out: only where it is asked about.</summary>
    public bool LeavesHeading => TextList.AsksHeading(List) && (ListHasHeading ?? TextList.IsHeading(List));

    /// <summary>Price of one piece that a clerk sets, as typed.</summary>
    public string PriceByHand { get; init; } = "";
    public string PriceReason { get; init; } = "";

    /// <summary>With another list; what was said of its first row holds only for that row.</summary>
    public LineEntry WithList(string? list) =>
        this with
        {
            List = list ?? "",
            ListHasHeading = TextList.FirstRow(list) == TextList.FirstRow(List) ? ListHasHeading : null,
        };

    /// <summary>With each bare size in the unit that it was meant in.</summary>
    public LineEntry WithUnit(LengthUnit unit) =>
        this with
        {
            Width = SizeText.WithUnit(Width, unit),
            Height = SizeText.WithUnit(Height, unit),
            Thickness = SizeText.WithUnit(Thickness, unit),
            Wall = SizeText.WithUnit(Wall, unit),
            Corner = SizeText.WithUnit(Corner, unit),
            Hole = SizeText.WithUnit(Hole, unit),
        };
}

/// <summary>How the questions about what hides inside were answered.</summary>
public enum HiddenAnswer
{
    NotYet,
    Nothing,
    Some,
    DontKnow,
}

/// <summary>A picture that came in.</summary>
/// <param name="Id">Names it.</param>
/// <param name="Wide">Pixels across as looked at.</param>
/// <param name="High">Pixels down.</param>
/// <param name="Name">The file's name.</param>
public sealed record PictureEntry(PictureId Id, int Wide, int High, string Name);

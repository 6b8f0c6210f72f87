using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Pictures;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Domain.Orders;

/// <summary>
/// What the piece is: as the customer describes it. Lengths are those of the face as it lies. A cylinder's face is the decorated part of its
/// mantle rolled out, and its thickness is its outer diameter.
/// </summary>
public sealed record PieceDescription
{
    /// <summary>Short name of the stock blank that was chosen; empty: an own piece, or only its measures are known.</summary>
    public string Blank { get; init; } = "";

    /// <summary>Key of the material, or <c>unknown</c>.</summary>
    public string Material { get; init; } = "unknown";

    /// <summary>How it stands in space.</summary>
    public Form Form { get; init; }

    /// <summary>Outline of the face.</summary>
    public FaceShape Face { get; init; }

    /// <summary>Width of the face.</summary>
    public Length Width { get; init; }

    /// <summary>Height of the face.</summary>
    public Length Height { get; init; }

    /// <summary>Thickness of the piece as it lies.</summary>
    public Length Thickness { get; init; }

    /// <summary>Thickness of the wall of a hollow, open piece such as a flask or a tin; zero: it is solid.</summary>
    public Length Wall { get; init; }

    /// <summary>
    /// Thickness of the solid plate that takes heat as the piece does: the piece itself, or twice the wall of a hollow one, which is warmed from
    /// outside alone and has a wall on either side. Of a solid cylinder it is the diameter, and that is no plate.
    /// </summary>
    public Length HeatedThickness => Wall > Length.Zero && Wall + Wall < Thickness ? Wall + Wall : Thickness;

    /// <summary>What lies between the face that is pressed and the air or the pad behind it: the wall of a hollow piece.</summary>
    public Length PressedThickness => Wall > Length.Zero && Wall < Thickness ? Wall : Thickness;

    /// <summary>Corner radius of a rounded rectangle.</summary>
    public Length Corner { get; init; }

    /// <summary>Diameter of a ring's hole.</summary>
    public Length Hole { get; init; }

    /// <summary>Area of a free outline, mm²; null: computed from the shape.</summary>
    public decimal? FreeAreaSquareMillimetres { get; init; }

    /// <summary>True for the customer's own piece.</summary>
    public bool IsOwn { get; init; }

    /// <summary>What the customer says it is worth; own pieces only.</summary>
    public decimal? DeclaredValue { get; init; }

    /// <summary>What is known of what hides inside.</summary>
    public HiddenParts Hidden { get; init; } = new();

    /// <summary>In the customer's words, at most 500 characters.</summary>
    public string Note { get; init; } = "";

    /// <summary>Height of the bounding box: a disc and a ring are as high as wide.</summary>
    public Length BoxHeight => IsRound ? Width : Height;

    /// <summary>The room it takes in an oven and on a rack: it lies flat, a cylinder stands on its end.</summary>
    public (Length Width, Length Depth, Length High) Room =>
        Form == Form.Cylinder ? (Thickness, Thickness, Height) : (Width, BoxHeight, Thickness);

    /// <summary>Once round a cylinder, mm: no picture is wider.</summary>
    public decimal RoundMillimetres => 4 * Pi4 * Thickness.Millimetres;

    /// <summary>The same as it is said to people: in whole millimetres, so that a picture of that width never meets itself.</summary>
    public Length OnceRound => Length.FromMillimetres(Math.Floor(RoundMillimetres));

    /// <summary>What of a cylinder has to get hot, mm³: all of it, or the mantle's wall and that of one end.</summary>
    public decimal CylinderCubicMillimetres =>
        Wall > Length.Zero
            ? Wall.Millimetres * (RoundMillimetres * Height.Millimetres + Pi4 * Thickness.Millimetres * Thickness.Millimetres)
            : Pi4 * Thickness.Millimetres * Thickness.Millimetres * Height.Millimetres;

    /// <summary>True for a disc and a ring: one diameter says how large they are.</summary>
    public bool IsRound => Face is FaceShape.Disc or FaceShape.Ring;

    /// <summary>The face's area, mm².</summary>
    public decimal AreaSquareMillimetres =>
        Face switch
        {
            FaceShape.Free when FreeAreaSquareMillimetres is { } area => area,
            FaceShape.Disc => Pi4 * Width.Millimetres * Width.Millimetres,
            FaceShape.Ring => Pi4 * (Width.Millimetres * Width.Millimetres - Hole.Millimetres * Hole.Millimetres),
            FaceShape.Ellipse => Pi4 * Width.Millimetres * Height.Millimetres,
            FaceShape.RoundedRectangle => Width.Millimetres * Height.Millimetres - (4 - 4 * Pi4) * Corner.Millimetres * Corner.Millimetres,
            _ => Width.Millimetres * Height.Millimetres,
        };

    private const decimal Pi4 = 0.785398163397448m;
}

/// <summary>How the customer laid the picture on the face; <see cref="PicturePlacement"/> turns it into millimetres.</summary>
/// <param name="Crop">The part that is used, in fractions of the upright picture.</param>
/// <param name="Turn">Quarter turns.</param>
/// <param name="Fit">Fills the face and is cut, or is shown whole.</param>
/// <param name="ShiftX">Where it lies across when there is room to choose, 0 to 1.</param>
/// <param name="ShiftY">Where it lies down, 0 to 1.</param>
/// <param name="Share">Of a picture shown whole: its size as a share of the largest that fits, above 0 to 1.</param>
/// <param name="LightLetters">A text is left free of ink instead of printed black: it shows the ground.</param>
/// <param name="IsToCome">There is a text already, and a picture that the customer brings later belongs to it.</param>
/// <param name="IsGone">There was a picture, which is no longer kept: whoever makes this again must ask for it.</param>
public sealed record PictureOnFace(
    PictureCrop Crop,
    QuarterTurn Turn,
    PictureFit Fit,
    double ShiftX = 0.5,
    double ShiftY = 0.5,
    double Share = 1,
    bool LightLetters = false,
    bool IsToCome = false,
    bool IsGone = false
)
{
    /// <summary>Usual margin inside the edge for everything important, mm: common practice, no source.</summary>
    public const double UsualSafeMarginMm = 3;

    /// <summary>The margin inside the edge of a face: the workshop's, on small faces a tenth of the shorter side.</summary>
    /// <param name="widthMm">Width of the face's box in mm.</param>
    /// <param name="heightMm">Height of the face's box in mm.</param>
    /// <param name="marginMm">The workshop's margin in mm.</param>
    public static double SafeMarginMm(double widthMm, double heightMm, double marginMm = UsualSafeMarginMm) =>
        Math.Min(marginMm, Math.Min(widthMm, heightMm) / 10);

    /// <summary>The choice for a picture of some pixels on a face: screen and print sheet both place by it.</summary>
    /// <param name="pixelsWide">Upright pixels across.</param>
    /// <param name="pixelsHigh">Upright pixels down.</param>
    /// <param name="faceWidthMm">Width of the face's box in mm.</param>
    /// <param name="faceHeightMm">Height of the face's box in mm.</param>
    /// <param name="bleedMm">Print beyond the edge in mm.</param>
    /// <param name="marginMm">The workshop's margin inside the edge in mm.</param>
    public PictureChoice Choice(
        int pixelsWide,
        int pixelsHigh,
        double faceWidthMm,
        double faceHeightMm,
        double bleedMm,
        double marginMm = UsualSafeMarginMm
    ) =>
        new(
            pixelsWide,
            pixelsHigh,
            faceWidthMm,
            faceHeightMm,
            Fit,
            Turn,
            Crop,
            bleedMm,
            SafeMarginMm(faceWidthMm, faceHeightMm, marginMm),
            ShiftX,
            ShiftY,
            Share
        );

    /// <summary>Nothing is cut away beforehand, and it fills the face: what is longer than the face goes beyond the edge.</summary>
    public static PictureOnFace Whole => new(PictureCrop.Whole, QuarterTurn.None, PictureFit.Fill);

    /// <summary>All of the picture is seen: where the face is longer, its ground is.</summary>
    public static PictureOnFace Seen => Whole with { Fit = PictureFit.Fit };
}

/// <summary>Some pieces alike in one order.</summary>
public sealed class OrderLine
{
    private PictureId? picture;
    private PictureOnFace placement = PictureOnFace.Whole;
    private IReadOnlyList<string> texts = [];
    private RecipeId recipe;
    private string verdict = "";
    private AgreedPrice price = AgreedPrice.Nothing;

    private OrderLine() { }

    /// <summary>A line.</summary>
    public OrderLine(OrderLineId id, int number, int quantity, PieceDescription piece, Finish finish)
    {
        (Id, Number, Quantity, Piece, Finish) = (id, number, quantity, piece, finish);
    }

    /// <summary>Names it.</summary>
    public OrderLineId Id { get; private set; }

    /// <summary>1, 2, 3 … in its order.</summary>
    public int Number { get; private set; }

    /// <summary>Pieces ordered, at least 1; 0 when the line was left out after booking.</summary>
    public int Quantity { get; private set; }

    /// <summary>What each piece is.</summary>
    public PieceDescription Piece { get; private set; } = new();

    /// <summary>How it shall look.</summary>
    public Finish Finish { get; private set; }

    /// <summary>The recipe version its pieces were booked with; those that were booked last, when it changed in between.</summary>
    public RecipeId Recipe
    {
        get => recipe;
        init => recipe = value;
    }

    /// <summary>The picture; null when it comes later or there is only text.</summary>
    public PictureId? Picture
    {
        get => picture;
        init => picture = value;
    }

    /// <summary>How the picture lies.</summary>
    public PictureOnFace Placement
    {
        get => placement;
        init => placement = value;
    }

    /// <summary>One text for all, or one for each piece in order.</summary>
    public IReadOnlyList<string> Texts
    {
        get => texts;
        init => texts = value;
    }

    /// <summary>Verdict of the material for this finish when booked: one of <see cref="VerdictWords"/>.</summary>
    public string Verdict
    {
        get => verdict;
        init => verdict = value;
    }

    /// <summary>Its pieces go into the heat only after a test piece of the same kind came out well.</summary>
    public bool AsksForTest => verdict == VerdictWords.TestPiece;

    /// <summary>The agreed price.</summary>
    public AgreedPrice Price
    {
        get => price;
        init => price = value;
    }

    internal void ForgetPicture()
    {
        if (picture is not null)
            (picture, placement) = (null, placement with { IsGone = true });
    }

    /// <summary>
    /// Another picture lies whole, so that nothing of it is cut off unseen: the crop of the earlier one says nothing of it. The letters stay as the
    /// customer chose, and the price as it was agreed.
    /// </summary>
    internal void Illustrate(PictureId sent) =>
        (picture, placement) = (sent, PictureOnFace.Seen with { LightLetters = placement.LightLetters });

    internal void Lay(PictureOnFace anew) => placement = anew;

    internal void Reword(IReadOnlyList<string> put) => texts = put;

    internal void Resize(LineResize to) => (Quantity, texts, price) = (to.Quantity, to.Texts, to.Price);

    internal void LeaveOut() => (Quantity, texts, price) = (0, [], AgreedPrice.Nothing);

    internal void MakeBy(RecipeId by, string judged) => (recipe, verdict) = (by, judged);

    /// <summary>Takes out everything personal: picture, texts and the customer's words.</summary>
    internal void Erase() => (picture, texts, Piece) = (null, [], Piece with { Note = "" });
}

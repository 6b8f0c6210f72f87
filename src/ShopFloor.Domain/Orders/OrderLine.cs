using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Domain.Orders;

/// <summary>What the piece is: as the customer describes it. Lengths are those of the face as it lies.</summary>
public sealed record PieceDescription
{
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

    /// <summary>Answers to the questions about what hides inside: keys of the questions answered with yes.</summary>
    public IReadOnlyList<string> HiddenParts { get; init; } = [];

    /// <summary>In the customer's words, at most 500 characters.</summary>
    public string Note { get; init; } = "";

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

/// <summary>How the picture lies on the face. Fractions of the picture, from its top left, before turning.</summary>
/// <param name="CropX">Left edge of the part shown, 0 to 1.</param>
/// <param name="CropY">Top edge, 0 to 1.</param>
/// <param name="CropWidth">Width of the part shown, above 0 to 1.</param>
/// <param name="CropHeight">Height, above 0 to 1.</param>
/// <param name="QuarterTurns">Clockwise quarter turns, 0 to 3.</param>
/// <param name="Fill">True: fills the face and is cut; false: shown whole.</param>
public sealed record PicturePlacement(double CropX, double CropY, double CropWidth, double CropHeight, int QuarterTurns, bool Fill)
{
    /// <summary>The whole picture, filling the face.</summary>
    public static PicturePlacement Whole => new(0, 0, 1, 1, 0, true);
}

/// <summary>One visible part of a price.</summary>
/// <param name="Code">Stable machine name.</param>
/// <param name="Name">In plain words.</param>
/// <param name="Amount">For the whole line.</param>
public sealed record PricePart(string Code, string Name, decimal Amount);

/// <summary>The price of a line as it was shown and agreed. Nothing that changes later touches it.</summary>
/// <param name="Parts">Its parts; they sum to <see cref="Net"/>.</param>
/// <param name="Net">Without tax, for the whole line.</param>
/// <param name="TaxPercent">Rate at booking.</param>
/// <param name="TaxCategory">Category letter at booking.</param>
/// <param name="Gross">With tax.</param>
/// <param name="Hash">Fingerprint of the shown price.</param>
/// <param name="OverrideReason">Why a person set another price.</param>
public sealed record AgreedPrice(
    IReadOnlyList<PricePart> Parts,
    decimal Net,
    decimal TaxPercent,
    string TaxCategory,
    decimal Gross,
    string Hash,
    string? OverrideReason
);

/// <summary>Some pieces alike in one order.</summary>
public sealed class OrderLine
{
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

    /// <summary>Pieces ordered, at least 1.</summary>
    public int Quantity { get; private set; }

    /// <summary>What each piece is.</summary>
    public PieceDescription Piece { get; private set; } = new();

    /// <summary>How it shall look.</summary>
    public Finish Finish { get; private set; }

    /// <summary>The recipe version its pieces were booked with.</summary>
    public RecipeId Recipe { get; init; }

    /// <summary>The picture; null when it comes later or there is only text.</summary>
    public PictureId? Picture { get; init; }

    /// <summary>How the picture lies.</summary>
    public PicturePlacement Placement { get; init; } = PicturePlacement.Whole;

    /// <summary>One text for all, or one for each piece in order.</summary>
    public IReadOnlyList<string> Texts { get; init; } = [];

    /// <summary>Verdict of the material for this finish when booked: take, test piece.</summary>
    public string Verdict { get; init; } = "";

    /// <summary>The agreed price.</summary>
    public AgreedPrice Price { get; init; } = new([], 0, 0, "", 0, "", null);
}

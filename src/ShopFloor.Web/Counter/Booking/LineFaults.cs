using ShopFloor.Documents.Pdf;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Web.Counter.Booking;

/// <summary>What is wrong with a line or an order as entered, beside its field.</summary>
public static class LineFaults
{
    /// <summary>Largest side of a piece, mm: no workshop of this kind has a larger oven.</summary>
    public const decimal MostSide = 2000;

    /// <summary>Most pieces in one line.</summary>
    public const int MostPieces = 1000;

    /// <summary>Most lines in one order.</summary>
    public const int MostLines = 200;

    /// <summary>Longest text on a piece.</summary>
    public const int MostText = 200;

    /// <summary>Longest of the customer's words about a piece.</summary>
    public const int MostNote = 500;

    /// <summary>Faults of a line.</summary>
    public static IReadOnlyList<Refusal> Of(LineInput line)
    {
        var faults = new List<Refusal>();
        Side(faults, line.Piece.Width.Millimetres, "width", line.Piece.Face is FaceShape.Disc or FaceShape.Ring ? "diameter" : "width");
        if (line.Piece.Face is not (FaceShape.Disc or FaceShape.Ring))
            Side(faults, line.Piece.Height.Millimetres, "height", "height");
        if (line.Piece.Thickness.Millimetres is < 0.1m or > 300)
            faults.Add(new Refusal("thickness", "Give a thickness between 0.1 and 300 mm.", "thickness"));
        if (
            line.Piece.Wall > Length.Zero
            && (line.Piece.Wall.Millimetres < 0.1m || line.Piece.Wall + line.Piece.Wall > line.Piece.Thickness)
        )
            faults.Add(
                new Refusal(
                    "wall",
                    "The wall is at least 0.1 mm and at most half of the thickness. Leave it empty when the piece is solid.",
                    "wall"
                )
            );
        Shape(faults, line.Piece);
        if (line.Quantity is < 1 or > MostPieces)
            faults.Add(new Refusal("quantity", "Give a number of pieces between 1 and 1,000.", "quantity"));
        if (line.Piece.DeclaredValue is < 0 or > 1_000_000)
            faults.Add(new Refusal("value", "Give a value between 0 and 1,000,000.", "value"));
        if (line.Piece.Note.Length > MostNote)
            faults.Add(new Refusal("note-long", "What we should know about the piece: at most 500 characters.", "note"));
        faults.AddRange(OfTexts(line.Texts, line.Quantity));
        if (NoReason(line) is { } why)
            faults.Add(why);
        return faults;
    }

    /// <summary>A price set by hand has its reason. While it is being typed the line can be priced and promised all the same.</summary>
    public static Refusal? NoReason(LineInput line) =>
        line.PriceByHand is not null && line.PriceReason.Trim().Length is < 3 or > 500
            ? new Refusal("override-reason", "Say why the price is set by hand, in 3 to 500 characters.", "priceReason")
            : null;

    private static void Side(List<Refusal> faults, decimal millimetres, string field, string name)
    {
        if (millimetres <= 0)
            faults.Add(new Refusal("size-missing", $"Give the {name} of the face.", field));
        else if (millimetres is < 5 or > MostSide)
            faults.Add(new Refusal("size-range", $"The {name} is between 5 and 2,000 mm. Did you mean another unit?", field));
    }

    private static void Shape(List<Refusal> faults, PieceDescription piece)
    {
        if (piece.Form == Form.Cylinder)
            Mantle(faults, piece);
        if (piece.Face == FaceShape.Ring && (piece.Hole.Micrometres <= 0 || piece.Hole >= piece.Width))
            faults.Add(new Refusal("hole", "The hole of a ring is smaller than the ring and larger than nothing.", "hole"));
        if (
            piece.Face == FaceShape.RoundedRectangle
            && piece.Corner.Micrometres * 2 > Math.Min(piece.Width.Micrometres, piece.Height.Micrometres)
        )
            faults.Add(new Refusal("corner", "The corner's radius is at most half of the shorter side.", "corner"));
        var box = piece.Width.Millimetres * piece.Height.Millimetres;
        if (piece.Face == FaceShape.Free && piece.FreeAreaSquareMillimetres is not { } area)
            faults.Add(new Refusal("area-missing", "Give the area of the outline, or choose another shape.", "area"));
        else if (piece.Face == FaceShape.Free && (piece.FreeAreaSquareMillimetres <= 0 || piece.FreeAreaSquareMillimetres > box))
            faults.Add(new Refusal("area", "The area is above 0 and not larger than width × height.", "area"));
    }

    // Half a millimetre is lost in measuring a diameter.
    private static void Mantle(List<Refusal> faults, PieceDescription piece)
    {
        if (piece.Face != FaceShape.Rectangle)
            faults.Add(new Refusal("face-round", "The picture of a round piece is a rectangle that goes round it.", "face"));
        if (piece.Thickness > Length.Zero && piece.Width.Millimetres > piece.RoundMillimetres + 1.6m)
            faults.Add(
                new Refusal(
                    "width-round",
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"Once round this piece is {piece.OnceRound.Millimetres:0} mm: the picture cannot be wider."
                    ),
                    "width"
                )
            );
    }

    /// <summary>Faults of the texts for some pieces.</summary>
    public static IReadOnlyList<Refusal> OfTexts(IReadOnlyList<string> texts, int quantity)
    {
        var faults = new List<Refusal>();
        if (texts.Count > 1 && texts.Count != quantity)
            faults.Add(
                new Refusal("texts", $"There are {texts.Count} texts for {quantity} pieces: give one for each, or one for all.", "texts")
            );
        if (texts.Any(t => t.Length > MostText))
            faults.Add(new Refusal("text-long", "A text on a piece has at most 200 characters.", "texts"));
        if (texts.SelectMany(TypeFaces.Missing).Distinct(StringComparer.Ordinal).ToList() is { Count: > 0 } signs)
            faults.Add(
                new Refusal(
                    "text-unprintable",
                    $"We cannot print {string.Join(" ", signs)}: our letters have no such sign. Please write it another way.",
                    "texts"
                )
            );
        return faults;
    }

    /// <summary>What is wrong with the day that a customer asks for.</summary>
    public static IReadOnlyList<Refusal> OfWanted(DateOnly? wanted, DateOnly today)
    {
        if (wanted < today)
            return [new Refusal("date-past", "This day is over. Choose today or later.", "wanted")];
        return wanted > today.AddYears(2) ? [new Refusal("date-far", "Choose a day within two years.", "wanted")] : [];
    }

    /// <summary>Faults of the order as a whole, without those of its lines.</summary>
    public static IReadOnlyList<Refusal> Of(OrderInput order, DateOnly today)
    {
        var faults = Customer.ContactFaults(order.Contact);
        if (order.Customer is not null)
            faults.RemoveAll(f => f.Code is "name-missing" or "reach-missing");
        if (order.Lines.Count is 0 or > MostLines)
            faults.Add(new Refusal("lines", "An order has between 1 and 200 lines.", "lines"));
        faults.AddRange(OfWanted(order.Wanted, today));
        if (order.Lines.Any(l => l.Piece.IsOwn) && !order.RiskAccepted)
            faults.Add(
                new Refusal(
                    "risk-open",
                    "An own piece can be lost in the work. Please read and accept this, or leave the piece out.",
                    "risk"
                )
            );
        if (order.Lines.Any(l => l.Picture is not null) && !order.RightsAccepted)
            faults.Add(new Refusal("rights-open", "Please confirm that the picture may be used.", "rights"));
        if (order.Customer is null && !order.ContactAgreed)
            faults.Add(new Refusal("contact-open", "Please agree that we keep the contact data for this order.", "contactAgreed"));
        if (order.Note.Length > 2000)
            faults.Add(new Refusal("note-long", "A note has at most 2,000 characters.", "note"));
        return faults;
    }
}

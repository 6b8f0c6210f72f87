using ShopFloor.Documents.Pdf;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;

namespace ShopFloor.Documents.Sheets;

/// <summary>
/// Where a text lies on a face: one line in the middle, or under a picture at the lower end; as large as it may be and still inside the
/// outline. Preview and print sheet both lay it by this, so what was seen is what is printed.
/// </summary>
public static class FaceText
{
    /// <summary>Height of capitals as a share of the face's height (common practice, no source).</summary>
    public const double CapShareOfFace = 0.08;

    /// <summary>The smallest letters, pt: below this ink runs together (common practice, no source).</summary>
    public const double SmallestPt = 4;

    /// <summary>Capitals below this height are hard to read on a piece in the hand, mm (common practice, no source).</summary>
    public const double LegibleCapMm = 2;

    // How far letters reach below their line, as a share of the capitals.
    private const double Tails = 0.3;

    /// <summary>Lays a text.</summary>
    /// <param name="face">The outline.</param>
    /// <param name="text">One line.</param>
    /// <param name="underPicture">True: at the lower end; false: in the middle, on a ring below its hole.</param>
    /// <param name="light">True: the letters stay free of ink.</param>
    /// <param name="marginMm">The workshop's margin inside the edge in mm.</param>
    public static TransferText On(
        FaceOutline face,
        string text,
        bool underPicture,
        bool light,
        double marginMm = PictureOnFace.UsualSafeMarginMm
    )
    {
        var ink = light ? Ink.White : Ink.Black;
        var (high, safe) = (face.Box.Height, PictureOnFace.SafeMarginMm(face.Box.Width, face.Box.Height, marginMm));
        var cap = Math.Min(high * CapShareOfFace, face.Shape == FaceShape.Ring ? (high - face.HoleMm) / 4 : high);
        var style = new TextStyle(TypeFace.SemiBold, PdfUnit.Points(cap / TextStyle.CapShare), ink);
        // Smaller letters lie in a lower, narrower or wider band: shrink until they fit the band they lie in.
        while (style.SizePt > SmallestPt && style.WidthMm(text) > Room(face, style, underPicture, safe))
            style = style.At(Math.Max(SmallestPt, style.SizePt * 0.95));
        return new TransferText(text, style, new PointMm(face.Box.Width / 2, Baseline(face, style, underPicture, safe)));
    }

    /// <summary>Whether a laid text stays inside the outline; the smallest letters may still be too wide for it.</summary>
    /// <param name="face">The outline.</param>
    /// <param name="laid">The text as <see cref="On"/> laid it.</param>
    /// <param name="underPicture">As it was laid.</param>
    /// <param name="marginMm">As it was laid.</param>
    public static bool Fits(FaceOutline face, TransferText laid, bool underPicture, double marginMm = PictureOnFace.UsualSafeMarginMm) =>
        laid.Style.WidthMm(laid.Text)
        <= Room(face, laid.Style, underPicture, PictureOnFace.SafeMarginMm(face.Box.Width, face.Box.Height, marginMm));

    private static double Baseline(FaceOutline face, TextStyle style, bool underPicture, double safe)
    {
        var high = face.Box.Height;
        if (face.Shape == FaceShape.Ring)
            return (high + (high + face.HoleMm) / 2) / 2 + style.CapMm / 2;
        return underPicture ? high - safe - high * (IsRound(face) ? 0.1 : 0.03) : high / 2 + style.CapMm / 2;
    }

    // The widest line inside the outline along the whole height of the letters, tails of g and p included.
    private static double Room(FaceOutline face, TextStyle style, bool underPicture, double safe)
    {
        var bottom = Baseline(face, style, underPicture, safe) + style.CapMm * Tails;
        var top = bottom - style.CapMm * (1 + Tails);
        return Math.Min(WideAt(face, top), WideAt(face, bottom)) - 2 * safe;
    }

    private static double WideAt(FaceOutline face, double y)
    {
        var (wide, high) = (face.Box.Width, face.Box.Height);
        if (IsRound(face))
            return wide * Math.Sqrt(Math.Max(0, 1 - Math.Pow(2 * y / high - 1, 2)));
        var radius = face.Shape == FaceShape.RoundedRectangle ? Math.Min(face.CornerMm, Math.Min(wide, high) / 2) : 0;
        var intoCorner = Math.Max(0, radius - Math.Min(y, high - y));
        return wide - 2 * (radius - Math.Sqrt(radius * radius - intoCorner * intoCorner));
    }

    private static bool IsRound(FaceOutline face) => face.Shape is FaceShape.Disc or FaceShape.Ring or FaceShape.Ellipse;
}

using ShopFloor.Documents.Pdf;
using ShopFloor.Documents.Sheets;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Counter.Entries;

namespace ShopFloor.Web.Counter.Pictures;

/// <summary>The text of a line where it lies on the face, laid by what lays it on the print sheet; millimetres.</summary>
/// <param name="Text">What it says.</param>
/// <param name="X">Its middle.</param>
/// <param name="Y">The line it stands on.</param>
/// <param name="Size">Size of the letters.</param>
/// <param name="Safe">Margin inside the edge.</param>
public sealed record SeenText(string Text, double X, double Y, double Size, double Safe)
{
    /// <summary>The text of one piece, of the first where none is named; empty where there is none.</summary>
    public static SeenText Of(LineEntry line, LengthUnit unit, double wide, double high, PrintRules rules, string? named = null)
    {
        var face = OutlineOf(line, unit, wide, high);
        var text = named ?? (EntryReading.Texts(line) is [var first, ..] ? first : "");
        var laid = FaceText.On(face, text, line.Picture is not null, line.LightLetters, rules.MarginMm);
        var safe = PictureOnFace.SafeMarginMm(wide, high, rules.MarginMm);
        return new SeenText(text, laid.At.X, laid.At.Y, PdfUnit.Millimetres(laid.Style.SizePt), safe);
    }

    /// <summary>The face of a line, by which texts are laid.</summary>
    public static FaceOutline OutlineOf(LineEntry line, LengthUnit unit, double wide, double high)
    {
        var piece = EntryReading.Piece(line, unit);
        return new FaceOutline(line.Face, wide, high, (double)piece.Corner.Millimetres, (double)piece.Hole.Millimetres);
    }
}

using ShopFloor.Documents.Sheets;
using ShopFloor.Domain.Pictures;
using ShopFloor.Web.Counter.Entries;

namespace ShopFloor.Web.Counter.Pictures;

/// <summary>A text whose letters become so small that they are hard to read, or that does not fit at all.</summary>
/// <param name="Text">What it says.</param>
/// <param name="CapMm">Height of its capitals, mm.</param>
/// <param name="Fits">False: even in the smallest letters it runs over the edge.</param>
public sealed record SmallText(string Text, double CapMm, bool Fits = true);

/// <summary>A picture with too few pixels for the size at which it is printed.</summary>
/// <param name="Ppi">Pixels per printed inch on the poorer axis.</param>
/// <param name="GoodWidthMm">The largest width of the printed picture at which the eye would not see its pixels, whole mm.</param>
public sealed record CoarsePicture(double Ppi, double GoodWidthMm);

/// <summary>What will be printed and yet may disappoint: said while it can be changed, and again where it is too late.</summary>
/// <param name="Small">Texts with small letters.</param>
/// <param name="Coarse">Null: the picture is fine, or there is none.</param>
public sealed record PrintDoubts(IReadOnlyList<SmallText> Small, CoarsePicture? Coarse)
{
    /// <summary>The doubts of a line; none while the face has no size.</summary>
    public static PrintDoubts Of(LineEntry line, LengthUnit unit, PrintRules rules)
    {
        if (EntryReading.FaceMillimetres(line, unit) is not { } face)
            return new PrintDoubts([], null);
        var outline = SeenText.OutlineOf(line, unit, face.Wide, face.High);
        var small = EntryReading
            .Texts(line)
            .Distinct(StringComparer.Ordinal)
            .Select(t => TextOn(outline, t, line.Picture is not null, rules.MarginMm))
            .Where(t => t.CapMm < FaceText.LegibleCapMm);
        return new PrintDoubts([.. small], CoarseOf(LaidPicture.Of(line, unit, rules)));
    }

    private static SmallText TextOn(FaceOutline outline, string text, bool underPicture, double marginMm)
    {
        var laid = FaceText.On(outline, text, underPicture, light: false, marginMm);
        return new SmallText(text, laid.Style.CapMm, FaceText.Fits(outline, laid, underPicture, marginMm));
    }

    /// <summary>Whether a laid picture is too coarse.</summary>
    public static CoarsePicture? CoarseOf(LaidPicture? laid) =>
        laid is { Resolution.Value: { Verdict: PictureVerdict.Poor } found }
            ? new CoarsePicture(Math.Round(found.LowerPpi), Math.Floor(laid.Placed.Picture.WidthMm * found.LowerPpi / found.NeededPpi))
            : null;

    /// <summary>The lines, counted from 0, whose picture is too coarse, each with a stamp that changes with whatever changes the picture.</summary>
    public static IReadOnlyList<(int At, string Stamp)> CoarseStamps(OrderEntry entry, PrintRules rules) =>
        [
            .. entry
                .Lines.Select((l, i) => (At: i, CoarseOf(LaidPicture.Of(l, entry.Unit, rules))?.Ppi))
                .Where(l => l.Ppi is not null)
                .Select(l => (l.At, string.Create(CultureInfo.InvariantCulture, $"{l.At}:{l.Ppi:0}"))),
        ];
}

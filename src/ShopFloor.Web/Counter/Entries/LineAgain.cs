using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Quantities;

namespace ShopFloor.Web.Counter.Entries;

/// <summary>A booked line as an entry once more: to repeat it, or to show its picture as it was laid.</summary>
public static class LineAgain
{
    /// <summary>The entry of a line.</summary>
    public static LineEntry Of(OrderLine line, KeptPicture? picture, decimal bleedMillimetres)
    {
        var piece = line.Piece;
        return new LineEntry
        {
            IsOwn = piece.IsOwn,
            Blank = piece.Blank,
            Material = piece.Material,
            Form = piece.Form,
            Face = piece.Face,
            Width = Typed(piece.Width),
            Height = Typed(piece.BoxHeight),
            Thickness = Typed(piece.Thickness),
            Wall = Typed(piece.Wall),
            Corner = Typed(piece.Corner),
            Hole = Typed(piece.Hole),
            Area = piece.FreeAreaSquareMillimetres is { } area ? (area / 100).ToString("0.##", CultureInfo.InvariantCulture) : "",
            Value = piece.DeclaredValue?.ToString("0.00", CultureInfo.InvariantCulture) ?? "",
            Note = piece.Note,
            Hidden = [.. Enum.GetValues<HiddenPart>().Where(p => piece.Hidden.About(p) == Answer.Yes).Select(p => p.ToString())],
            HiddenAnswer = HiddenOf(piece.Hidden),
            OldCoat = piece.IsOwn ? piece.Hidden.OldCoat : null,
            Finish = line.Finish,
            Quantity = line.Quantity.ToString(CultureInfo.InvariantCulture),
            Picture = picture is null ? null : new PictureEntry(picture.Id, picture.WidthPixels, picture.HeightPixels, picture.Name),
            PictureLater = picture is null && (line.Texts.Count == 0 || line.Placement.IsToCome || line.Placement.IsGone),
            Framing = picture is null ? Framing.Whole : FramingOf(line, picture, (double)bleedMillimetres),
            LightLetters = line.Placement.LightLetters,
            Text = line.Texts.Count == 1 ? line.Texts[0] : "",
            List = line.Texts.Count > 1 ? TextList.Write(line.Texts) : "",
            ListHasHeading = line.Texts.Count > 1 ? false : null,
        };
    }

    private static Framing FramingOf(OrderLine line, KeptPicture picture, double bleed) =>
        Framing.Of(
            line.Placement,
            picture.WidthPixels,
            picture.HeightPixels,
            (double)line.Piece.Width.Millimetres + 2 * bleed,
            (double)line.Piece.BoxHeight.Millimetres + 2 * bleed
        );

    private static HiddenAnswer HiddenOf(HiddenParts hidden)
    {
        var answers = Enum.GetValues<HiddenPart>().Select(hidden.About).ToList();
        if (answers.Contains(Answer.Yes))
            return HiddenAnswer.Some;
        return answers.Contains(Answer.Unknown) ? HiddenAnswer.DontKnow : HiddenAnswer.Nothing;
    }

    private static string Typed(Length length) => length > Length.Zero ? SizeEcho.Typed(length) : "";
}

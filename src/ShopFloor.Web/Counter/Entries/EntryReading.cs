using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pictures;
using ShopFloor.Domain.Quantities;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Counter.Pictures;

namespace ShopFloor.Web.Counter.Entries;

/// <summary>Makes an order of what was typed. What cannot be read counts as not given; <see cref="StepFaults"/> says so in words.</summary>
public static class EntryReading
{
    // Plates and panes are thinner; what is thicker may be a box or a bottle.
    private static readonly Length Plate = Length.FromMillimetres(10);

    /// <summary>The order as far as it can be read.</summary>
    /// <param name="entry">As typed.</param>
    /// <param name="draft">The draft it is kept in.</param>
    /// <param name="rules">By what pictures are laid and judged.</param>
    /// <param name="language">Language the agreements were shown in.</param>
    public static OrderInput Order(OrderEntry entry, Guid draft, PrintRules rules, string language) =>
        new()
        {
            Draft = draft,
            Customer = entry.Customer,
            // Of a known customer the entry only shows what is kept, maybe from an older order.
            Contact = entry.Customer is null
                ? new Contact(entry.Name.Trim(), entry.Email.Trim(), entry.Phone.Trim())
                : new Contact("", "", ""),
            Lines = [.. entry.Lines.Select(l => Line(l, entry.Unit, rules.BleedMillimetres))],
            Wanted = WantedDay(entry.Wanted),
            IsRush = entry.IsRush,
            TodaysPrice = entry.TodaysPrice,
            IsGift = entry.IsGift,
            RiskAccepted = entry.RiskAccepted,
            RightsAccepted = entry.RightsAccepted,
            ContactAgreed = entry.ContactAgreed,
            CoarseTold = [.. PrintDoubts.CoarseStamps(entry, rules).Where(c => entry.IsTold(c.Stamp)).Select(c => c.At + 1)],
            Language = language,
            ShownPriceHashes = entry.ShownPrices,
            ShownDay = entry.ShownDay,
            Note = entry.Note.Trim(),
        };

    /// <summary>One line as far as it can be read.</summary>
    public static LineInput Line(LineEntry line, LengthUnit unit, decimal bleedMillimetres)
    {
        var piece = Piece(line, unit);
        return new LineInput
        {
            Piece = piece,
            Quantity = Math.Min(Quantity(line) ?? 0, LineFaults.MostPieces + 1),
            Finish = line.Finish ?? default,
            Picture = line.Picture?.Id,
            Placement = Placement(line.Picture, line.Framing, piece, bleedMillimetres) with
            {
                LightLetters = line.LightLetters,
                IsToCome = line.Picture is null && line.PictureLater,
            },
            SecondSide = line.SecondSide && !GoesRound(line),
            Photos = line.IsOwn == true ? line.Photos : [],
            Texts = Texts(line),
            PriceByHand =
                line.PriceByHand.Trim().Length > 0 && NumberText.Amount(line.PriceByHand) is { IsOk: true } amount ? amount.Value : null,
            PriceReason = line.PriceReason.Trim(),
        };
    }

    /// <summary>How many pieces; a list of texts counts by itself.</summary>
    public static int? Quantity(LineEntry line) => line.List.Trim().Length > 0 ? Texts(line).Count : NumberText.Count(line.Quantity);

    /// <summary>The texts for the pieces.</summary>
    public static IReadOnlyList<string> Texts(LineEntry line)
    {
        if (line.List.Trim().Length > 0)
            return TextList.Good(TextList.Read(line));
        return line.Text.Trim().Length > 0 ? [line.Text.Trim()] : [];
    }

    /// <summary>What the piece is.</summary>
    public static PieceDescription Piece(LineEntry line, LengthUnit unit) =>
        new()
        {
            Blank = line.IsOwn == false ? line.Blank : "",
            Material = line.Material.Length == 0 ? "unknown" : line.Material,
            Form = line.Form ?? Form.Flat,
            Face = line.Face,
            Width = Size(line.Width, unit),
            Height = line.Face.IsRound() ? Size(line.Width, unit) : Size(line.Height, unit),
            Thickness = Size(line.Thickness, unit),
            Wall = AsksWall(line, unit) ? Size(line.Wall, unit) : Length.Zero,
            Corner = line.Face == FaceShape.RoundedRectangle ? Size(line.Corner, unit) : Length.Zero,
            Hole = line.Face == FaceShape.Ring ? Size(line.Hole, unit) : Length.Zero,
            FreeAreaSquareMillimetres =
                line.Face == FaceShape.Free && NumberText.Area(line.Area) is { IsOk: true } area ? area.Value * 100 : null,
            IsOwn = line.IsOwn ?? false,
            DeclaredValue = line.IsOwn == true && NumberText.Amount(line.Value) is { IsOk: true } value ? value.Value : null,
            Hidden = Hidden(line) with { OldCoat = line.IsOwn == true ? line.OldCoat ?? Answer.Unknown : Answer.No },
            Note = line.Note.Trim(),
        };

    /// <summary>True for a piece that the print goes round: its sizes have other names.</summary>
    public static bool GoesRound(LineEntry line) => line is { IsOwn: true, Form: Form.Cylinder };

    /// <summary>Whether it is worth asking if the piece is hollow: an own one that is not flat, or thicker than a plate is.</summary>
    public static bool AsksWall(LineEntry line, LengthUnit unit) =>
        line.IsOwn == true && (line.Form is not (null or Form.Flat) || Size(line.Thickness, unit) > Plate);

    /// <summary>The face as it can be drawn now; a size that is not given yet is null.</summary>
    public static (double Wide, double High)? FaceMillimetres(LineEntry line, LengthUnit unit)
    {
        var piece = Piece(line, unit);
        return piece.Width > Length.Zero && piece.BoxHeight > Length.Zero
            ? ((double)piece.Width.Millimetres, (double)piece.BoxHeight.Millimetres)
            : null;
    }

    /// <summary>The day asked for.</summary>
    public static DateOnly? WantedDay(string text) =>
        DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day) ? day : null;

    private static bool IsRound(this FaceShape face) => face is FaceShape.Disc or FaceShape.Ring;

    private static Length Size(string text, LengthUnit unit) => SizeText.Read(text, unit) is { IsOk: true } size ? size.Value : Length.Zero;

    private static PictureOnFace Placement(PictureEntry? picture, Framing framing, PieceDescription piece, decimal bleed)
    {
        if (picture is null)
            return PictureOnFace.Whole;
        var turn = (QuarterTurn)framing.Turns;
        if (!framing.Fill || piece.Width == Length.Zero || piece.BoxHeight == Length.Zero)
            return new PictureOnFace(
                PictureCrop.Whole,
                turn,
                framing.Fill ? PictureFit.Fill : PictureFit.Fit,
                Share: framing.Fill ? 1 : framing.Share
            );
        var (wide, high) = ((double)(piece.Width.Millimetres + 2 * bleed), (double)(piece.BoxHeight.Millimetres + 2 * bleed));
        var part = framing.Part(picture.Wide, picture.High, wide, high);
        return new PictureOnFace(new PictureCrop(part.Left, part.Top, part.Width, part.Height), turn, PictureFit.Fill);
    }

    private static HiddenParts Hidden(LineEntry line)
    {
        if (line.HiddenAnswer == HiddenAnswer.Nothing)
            return HiddenParts.None;
        Answer About(HiddenPart part) =>
            line.HiddenAnswer != HiddenAnswer.Some ? Answer.Unknown
            : line.Hidden.Contains(part.ToString()) ? Answer.Yes
            : Answer.No;
        return new HiddenParts(
            About(HiddenPart.SealedHollow),
            About(HiddenPart.FuelBatteryOrLiquid),
            About(HiddenPart.SolderedJoint),
            About(HiddenPart.GluedPart),
            About(HiddenPart.LaminatedLayer),
            About(HiddenPart.PlasticOrRubberInsert)
        );
    }
}

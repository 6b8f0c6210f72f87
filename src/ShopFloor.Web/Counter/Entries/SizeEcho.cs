using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Quantities;

namespace ShopFloor.Web.Counter.Entries;

/// <summary>Says a length back in both units, so that a wrong unit is seen at once.</summary>
public static class SizeEcho
{
    private const int FinestInch = 64;

    /// <summary>E.g. <c>88.9 mm (3 1/2 in)</c>, numbers in the current culture.</summary>
    public static string Both(Length length) => $"{Millimetres(length)} ({Inches(length)})";

    /// <summary>E.g. <c>88.9 mm</c>.</summary>
    public static string Millimetres(Length length) => $"{length.Millimetres.ToString("#,0.###", CultureInfo.CurrentCulture)} mm";

    /// <summary>
    /// A face by its sides, a round one by its diameter, a cylinder by both: <c>100 mm × 60 mm</c>, <c>Ø 100 mm</c>,
    /// <c>Ø 82 mm, 200 mm × 95 mm</c>.
    /// </summary>
    /// <param name="piece">Whose face.</param>
    /// <param name="say">How a length is said; without it in millimetres.</param>
    public static string Face(PieceDescription piece, Func<Length, string>? say = null)
    {
        say ??= Millimetres;
        if (piece.Form == Form.Cylinder)
            return $"Ø {say(piece.Thickness)}, {say(piece.Width)} × {say(piece.Height)}";
        return piece.IsRound ? $"Ø {say(piece.Width)}" : $"{say(piece.Width)} × {say(piece.BoxHeight)}";
    }

    /// <summary>A length as somebody would type it, in a way that reads back as the same length in every culture and unit.</summary>
    public static string Typed(Length length)
    {
        // Three decimals could be read as thousands; a fourth cannot.
        var format = length.Micrometres % 10 == 0 ? "0.##" : "0.0000";
        return $"{length.Millimetres.ToString(format, CultureInfo.InvariantCulture)} mm";
    }

    /// <summary>A fraction down to 1/64 where it is exact, else about: to a hundredth, below one inch to a thousandth.</summary>
    public static string Inches(Length length)
    {
        var parts = length.Micrometres * FinestInch;
        var off = parts % Length.MicrometresPerInch;
        // A micrometre more or less comes from the rounding of the length itself.
        if (off > FinestInch && Length.MicrometresPerInch - off > FinestInch)
            return $"≈\u00a0{length.Inches.ToString(length.Inches < 1 ? "0.###" : "0.##", CultureInfo.CurrentCulture)} in";
        var whole = (parts + FinestInch) / Length.MicrometresPerInch;
        return $"{Mixed(whole)} in";
    }

    private static string Mixed(long sixtyFourths)
    {
        var (ones, over, under) = (sixtyFourths / FinestInch, sixtyFourths % FinestInch, FinestInch);
        while (over > 0 && over % 2 == 0)
            (over, under) = (over / 2, under / 2);
        if (over == 0)
            return ones.ToString(CultureInfo.CurrentCulture);
        return ones == 0 ? $"{over}/{under}" : $"{ones} {over}/{under}";
    }
}

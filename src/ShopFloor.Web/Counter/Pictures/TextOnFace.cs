namespace ShopFloor.Web.Counter.Pictures;

/// <summary>Where a text lies on a face: one line, centred, at the lower end of the safe area, as large as it may be and still fit.</summary>
public static class TextOnFace
{
    /// <summary>Mean width of a letter over its size, a little on the safe side for the shipped typeface: measured, no source.</summary>
    private const double LetterWidth = 0.58;

    /// <summary>The largest share of the face's height.</summary>
    private const double MostHeight = 0.14;

    /// <summary>Size of the letters in mm.</summary>
    public static double Size(double wide, double high, double safe, string text) =>
        Math.Min(high * MostHeight, (wide - 2 * safe) / Math.Max(1, LetterWidth * text.Length));

    /// <summary>The line the letters stand on, in mm from the top.</summary>
    public static double Baseline(double high, double safe) => high - safe - high * 0.03;
}

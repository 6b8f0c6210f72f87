using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pictures;

namespace ShopFloor.Web.Counter.Entries;

/// <summary>
/// How somebody laid the picture: zoom and place for a picture that fills the face, quarter turns, or the whole picture shown. What is shown
/// follows from it and from the face, so that a changed size never leaves a crop that does not fit.
/// </summary>
/// <param name="Zoom">1: as much of the picture as fits; up to <see cref="MostZoom"/>.</param>
/// <param name="X">Middle of the part shown across the picture as stored upright, 0 to 1.</param>
/// <param name="Y">Middle downwards, 0 to 1.</param>
/// <param name="Turns">Quarter turns clockwise, 0 to 3.</param>
/// <param name="Fill">True: covers the face; false: whole picture on the face.</param>
/// <param name="Share">Of a whole picture: its size as a share of the largest that fits, <see cref="LeastShare"/> to 1.</param>
public sealed record Framing(double Zoom, double X, double Y, int Turns, bool Fill, double Share = 1)
{
    public const double MostZoom = 8;
    public const double LeastShare = 0.25;

    public static Framing Whole { get; } = new(1, 0.5, 0.5, 0, true);

    /// <summary>The framing that shows a given part again.</summary>
    /// <param name="on">The part as it was booked.</param>
    /// <param name="wide">Pixels across.</param>
    /// <param name="high">Pixels down.</param>
    /// <param name="faceWide">Width of what is covered.</param>
    /// <param name="faceHigh">Its height.</param>
    public static Framing Of(PictureOnFace on, int wide, int high, double faceWide, double faceHigh)
    {
        var turns = (int)on.Turn;
        var (targetWide, targetHigh) = turns % 2 == 0 ? (faceWide, faceHigh) : (faceHigh, faceWide);
        var whole = Math.Min(wide / targetWide, high / targetHigh);
        var scale = Math.Min(on.Crop.Width * wide / targetWide, on.Crop.Height * high / targetHigh);
        return new Framing(
            Math.Clamp(whole / scale, 1, MostZoom),
            on.Crop.Left + on.Crop.Width / 2,
            on.Crop.Top + on.Crop.Height / 2,
            turns,
            on.Fit == PictureFit.Fill,
            on.Share
        );
    }

    /// <summary>The part of the picture that is shown, in shares of its width and height.</summary>
    /// <param name="wide">Pixels across.</param>
    /// <param name="high">Pixels down.</param>
    /// <param name="faceWide">Width of what is to be covered, any unit.</param>
    /// <param name="faceHigh">Its height, same unit.</param>
    public (double Left, double Top, double Width, double Height) Part(int wide, int high, double faceWide, double faceHigh)
    {
        if (!Fill)
            return (0, 0, 1, 1);
        var (targetWide, targetHigh) = Turns % 2 == 0 ? (faceWide, faceHigh) : (faceHigh, faceWide);
        var scale = Math.Min(wide / targetWide, high / targetHigh) / Zoom;
        var (width, height) = (Math.Min(1, targetWide * scale / wide), Math.Min(1, targetHigh * scale / high));
        return (Math.Clamp(X - width / 2, 0, 1 - width), Math.Clamp(Y - height / 2, 0, 1 - height), width, height);
    }

    /// <summary>Closer or farther.</summary>
    public Framing Zoomed(double factor) => this with { Zoom = Math.Clamp(Zoom * factor, 1, MostZoom), Fill = true };

    /// <summary>The whole picture, smaller or larger.</summary>
    public Framing Sized(double factor) => this with { Share = Math.Clamp(Share * factor, LeastShare, 1), Fill = false };

    /// <summary>A quarter turn clockwise.</summary>
    public Framing Turned() => this with { Turns = (Turns + 1) % 4 };

    /// <summary>Moves the picture on the face, as seen.</summary>
    /// <param name="right">In shares of the part shown; positive moves the picture to the right.</param>
    /// <param name="down">Positive moves it down.</param>
    /// <param name="part">The part shown now.</param>
    public Framing Moved(double right, double down, (double Left, double Top, double Width, double Height) part)
    {
        // Seen directions turned back into those of the picture itself.
        var (x, y) = Turns switch
        {
            0 => (right, down),
            1 => (down, -right),
            2 => (-right, -down),
            _ => (-down, right),
        };
        var (middleX, middleY) = (part.Left + part.Width / 2 - x * part.Width, part.Top + part.Height / 2 - y * part.Height);
        return this with
        {
            X = Math.Clamp(middleX, part.Width / 2, 1 - part.Width / 2),
            Y = Math.Clamp(middleY, part.Height / 2, 1 - part.Height / 2),
        };
    }
}

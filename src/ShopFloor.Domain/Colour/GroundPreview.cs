namespace ShopFloor.Domain.Colour;

/// <summary>
/// Shows a picture on its ground, pixel by pixel. Buffers are rows of red, green, blue, alpha bytes, sRGB, straight alpha; where the picture
/// is transparent nothing is printed and the ground shows. Because each channel goes its own way, three tables of 256 entries do it.
/// </summary>
public sealed class GroundPreview
{
    private const int BytesPerPixel = 4;
    private readonly byte[] red;
    private readonly byte[] green;
    private readonly byte[] blue;

    /// <summary>Prepares the tables for a look.</summary>
    public GroundPreview(PrintLook look)
    {
        red = Table(v => look.Reflectance(LinearRgb.Grey(v)).R);
        green = Table(v => look.Reflectance(LinearRgb.Grey(v)).G);
        blue = Table(v => look.Reflectance(LinearRgb.Grey(v)).B);
    }

    /// <summary>Renders; source and result may be the same buffer.</summary>
    /// <param name="rgba">Source pixels.</param>
    /// <param name="result">Result pixels, at least as long; opaque afterwards.</param>
    /// <exception cref="ArgumentException">The buffers do not fit each other, or not whole pixels.</exception>
    public void Render(ReadOnlySpan<byte> rgba, Span<byte> result)
    {
        if (rgba.Length % BytesPerPixel != 0 || result.Length < rgba.Length)
        {
            throw new ArgumentException("The buffers hold whole pixels, and the result at least as many as the source.", nameof(result));
        }

        for (var i = 0; i < rgba.Length; i += BytesPerPixel)
        {
            var alpha = rgba[i + 3];
            result[i] = red[OverPaper(rgba[i], alpha)];
            result[i + 1] = green[OverPaper(rgba[i + 1], alpha)];
            result[i + 2] = blue[OverPaper(rgba[i + 2], alpha)];
            result[i + 3] = 255;
        }
    }

    /// <summary>Paper white where nothing is printed.</summary>
    internal static byte OverPaper(byte value, byte alpha) =>
        alpha == 255 ? value : (byte)(((value * alpha) + (255 * (255 - alpha)) + 127) / 255);

    private static byte[] Table(Func<double, double> reflectance) =>
        [.. Enumerable.Range(0, 256).Select(v => Srgb.EncodeByte(reflectance(Srgb.DecodeByte((byte)v))))];
}

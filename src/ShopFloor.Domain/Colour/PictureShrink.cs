namespace ShopFloor.Domain.Colour;

/// <summary>Makes a picture small for the screen by averaging light, not code values, so that fine patterns keep their brightness.</summary>
public static class PictureShrink
{
    private const int BytesPerPixel = 4;
    private static readonly ushort[] Light =
    [
        .. Enumerable.Range(0, 256).Select(v => (ushort)Math.Round(Srgb.DecodeByte((byte)v) * 65535)),
    ];
    private static readonly byte[] Code = [.. Enumerable.Range(0, 65536).Select(v => Srgb.EncodeByte(v / 65535.0))];

    /// <summary>Width and height of the picture within a box, never larger than it is, aspect kept, at least 1 each.</summary>
    /// <param name="width">Width in pixels, at least 1.</param>
    /// <param name="height">Height in pixels, at least 1.</param>
    /// <param name="boxWidth">Box width in pixels, at least 1.</param>
    /// <param name="boxHeight">Box height in pixels, at least 1.</param>
    public static (int Width, int Height) Fit(int width, int height, int boxWidth, int boxHeight)
    {
        var scale = Math.Min(1, Math.Min(boxWidth / (double)width, boxHeight / (double)height));
        return (Math.Max(1, (int)Math.Round(width * scale)), Math.Max(1, (int)Math.Round(height * scale)));
    }

    /// <summary>Averages each block of source pixels into one.</summary>
    /// <param name="rgba">Source, rows of red, green, blue, alpha, straight alpha, without padding.</param>
    /// <param name="width">Source width in pixels.</param>
    /// <param name="height">Source height in pixels.</param>
    /// <param name="smallWidth">Result width, 1 to the source's.</param>
    /// <param name="smallHeight">Result height, 1 to the source's.</param>
    /// <returns>The small picture in the same layout; transparent areas come out as paper white, opaque.</returns>
    /// <exception cref="ArgumentException">The buffer does not fit the size, or the result would be larger than the source.</exception>
    public static byte[] To(ReadOnlySpan<byte> rgba, int width, int height, int smallWidth, int smallHeight)
    {
        if (rgba.Length != (long)width * height * BytesPerPixel)
        {
            throw new ArgumentException("The buffer does not fit the size.", nameof(rgba));
        }

        if (smallWidth < 1 || smallWidth > width || smallHeight < 1 || smallHeight > height)
        {
            throw new ArgumentException("The result is at least one pixel and no larger than the source.", nameof(smallWidth));
        }

        var result = new byte[smallWidth * smallHeight * BytesPerPixel];
        int[] lefts = [.. Enumerable.Range(0, smallWidth + 1).Select(x => (int)((long)x * width / smallWidth))];
        var sums = new ulong[smallWidth * 3];
        for (var y = 0; y < smallHeight; y++)
        {
            var (top, bottom) = ((int)((long)y * height / smallHeight), (int)((long)(y + 1) * height / smallHeight));
            Array.Clear(sums);
            for (var row = top; row < bottom; row++)
            {
                AddRow(rgba.Slice(row * width * BytesPerPixel, width * BytesPerPixel), lefts, sums);
            }

            WriteRow(result.AsSpan(y * smallWidth * BytesPerPixel), lefts, sums, bottom - top);
        }

        return result;
    }

    private static void AddRow(ReadOnlySpan<byte> row, int[] lefts, ulong[] sums)
    {
        for (var x = 0; x + 1 < lefts.Length; x++)
        {
            uint r = 0;
            uint g = 0;
            uint b = 0;
            for (var i = lefts[x] * BytesPerPixel; i < lefts[x + 1] * BytesPerPixel; i += BytesPerPixel)
            {
                var alpha = row[i + 3];
                r += Light[GroundPreview.OverPaper(row[i], alpha)];
                g += Light[GroundPreview.OverPaper(row[i + 1], alpha)];
                b += Light[GroundPreview.OverPaper(row[i + 2], alpha)];
            }

            sums[x * 3] += r;
            sums[(x * 3) + 1] += g;
            sums[(x * 3) + 2] += b;
        }
    }

    private static void WriteRow(Span<byte> target, int[] lefts, ulong[] sums, int rows)
    {
        for (var x = 0; x + 1 < lefts.Length; x++)
        {
            var pixels = (ulong)((lefts[x + 1] - lefts[x]) * rows);
            target[x * BytesPerPixel] = Code[sums[x * 3] / pixels];
            target[(x * BytesPerPixel) + 1] = Code[sums[(x * 3) + 1] / pixels];
            target[(x * BytesPerPixel) + 2] = Code[sums[(x * 3) + 2] / pixels];
            target[(x * BytesPerPixel) + 3] = 255;
        }
    }
}

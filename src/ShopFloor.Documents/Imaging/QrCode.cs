using System.Text;
using QRCoder;
using ShopFloor.Documents.Pdf;

namespace ShopFloor.Documents.Imaging;

/// <summary>
/// A QR code (ISO/IEC 18004) at error level Q: a quarter of it may be dirty or torn and it still reads.
/// A quiet zone of four modules belongs to it on all sides.
/// </summary>
public sealed class QrCode
{
    /// <summary>Modules that must stay white around it (ISO/IEC 18004, from memory).</summary>
    public const int QuietZone = 4;

    private readonly bool[,] dark;

    private QrCode(bool[,] dark) => this.dark = dark;

    /// <summary>Modules on a side, without the quiet zone.</summary>
    public int Size => dark.GetLength(0);

    /// <summary>Modules on a side with the quiet zone.</summary>
    public int FullSize => Size + 2 * QuietZone;

    /// <summary>A code for a text.</summary>
    /// <exception cref="ArgumentException">Empty or longer than a code can hold.</exception>
    public static QrCode Of(string text)
    {
        if (text.Length is 0 or > 1000)
            throw new ArgumentException("A QR code holds 1 to 1000 characters here.", nameof(text));
        // Beyond ASCII the code must say that it is UTF-8, else readers guess.
        var plain = text.All(char.IsAscii);
        using var data = QRCodeGenerator.GenerateQrCode(
            text,
            QRCodeGenerator.ECCLevel.Q,
            forceUtf8: !plain,
            eciMode: plain ? QRCodeGenerator.EciMode.Default : QRCodeGenerator.EciMode.Utf8
        );
        // The library adds the quiet zone to its matrix; we count without it.
        var size = data.ModuleMatrix.Count - 2 * QuietZone;
        var modules = new bool[size, size];
        for (var y = 0; y < size; y++)
        for (var x = 0; x < size; x++)
            modules[y, x] = data.ModuleMatrix[y + QuietZone][x + QuietZone];
        return new QrCode(modules);
    }

    /// <summary>True when the module is dark; rows from the top.</summary>
    public bool IsDark(int row, int column) => dark[row, column];

    /// <summary>The dark modules as boxes, runs joined; <paramref name="at"/> is the outer corner of the quiet zone.</summary>
    public Outline ToOutline(PointMm at, double moduleMm)
    {
        var boxes = Runs()
            .Select(r => new RectMm(
                at.X + (r.Column + QuietZone) * moduleMm,
                at.Y + (r.Row + QuietZone) * moduleMm,
                r.Length * moduleMm,
                moduleMm
            ));
        return new Outline.Boxes([.. boxes]);
    }

    /// <summary>As an SVG drawing that scales to its room, black on white.</summary>
    public string ToSvg(string title)
    {
        var svg = new StringBuilder();
        svg.Append(
            CultureInfo.InvariantCulture,
            $"""<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {FullSize} {FullSize}" shape-rendering="crispEdges" role="img">"""
        );
        svg.Append(
            CultureInfo.InvariantCulture,
            $"""<title>{System.Net.WebUtility.HtmlEncode(title)}</title><rect width="100%" height="100%" fill="#fff"/><path d="""
        );
        svg.Append('"');
        foreach (var (row, column, length) in Runs())
            svg.Append(CultureInfo.InvariantCulture, $"M{column + QuietZone} {row + QuietZone}h{length}v1h-{length}z");
        return svg.Append("\"/></svg>").ToString();
    }

    /// <summary>As a black and white PNG.</summary>
    public byte[] ToPng(int pixelsPerModule)
    {
        using var bitmap = new SkiaSharp.SKBitmap(FullSize * pixelsPerModule, FullSize * pixelsPerModule);
        bitmap.Erase(SkiaSharp.SKColors.White);
        foreach (var (row, column, length) in Runs())
            bitmap.Erase(
                SkiaSharp.SKColors.Black,
                SkiaSharp.SKRectI.Create(
                    (column + QuietZone) * pixelsPerModule,
                    (row + QuietZone) * pixelsPerModule,
                    length * pixelsPerModule,
                    pixelsPerModule
                )
            );
        using var data = bitmap.Encode(SkiaSharp.SKEncodedImageFormat.Png, 100);
        return data.ToArray();
    }

    private IEnumerable<(int Row, int Column, int Length)> Runs()
    {
        for (var row = 0; row < Size; row++)
        for (var column = 0; column < Size; )
        {
            var length = 0;
            while (column + length < Size && dark[row, column + length])
                length++;
            if (length > 0)
                yield return (row, column, length);
            column += Math.Max(1, length);
        }
    }
}

using System.Text;
using System.Text.RegularExpressions;
using PdfSharp.Pdf.Advanced;

namespace ShopFloor.Documents.Pdf;

/// <summary>
/// Writes a saved document and behind it, as an incremental update (ISO 32000-1, 7.5.6), the true bodies of its pictures.
/// So the pictures never stand in memory together, and their bytes arrive in the file untouched.
/// </summary>
internal sealed partial class PictureAppendix(ReadOnlyMemory<byte> saved, Stream target)
{
    private readonly SortedDictionary<int, long> offsets = [];
    private long position;
    private int next;

    public void Write(IEnumerable<PlacedPicture> pictures, int rgbProfile, int greyProfile)
    {
        target.Write(saved.Span);
        var drawn = pictures.Where(p => p.Object is not null).ToList();
        if (drawn.Count == 0)
            return;
        var tail = Encoding.Latin1.GetString(saved.Span[Math.Max(0, saved.Length - 2048)..]);
        var trailer = Trailer().Match(tail);
        if (!trailer.Success)
            throw new InvalidOperationException("The PDF library wrote a trailer of another form than expected.");
        position = saved.Length;
        next = int.Parse(trailer.Groups["size"].Value, CultureInfo.InvariantCulture);
        Text("\n");
        foreach (var picture in drawn)
            Body(picture.Picture.Body(), ((PdfReference)picture.Object!).ObjectNumber, rgbProfile, greyProfile);
        CrossReference(trailer);
    }

    private void Body(PictureBody body, int number, int rgbProfile, int greyProfile)
    {
        var dictionary = new StringBuilder(body.Dictionary).Replace("{rgb}", $"{rgbProfile} 0 R").Replace("{grey}", $"{greyProfile} 0 R");
        for (var i = 0; i < body.Parts.Count; i++)
        {
            var part = next++;
            Body(body.Parts[i], part, rgbProfile, greyProfile);
            dictionary.Replace($"{{{i}}}", $"{part} 0 R");
        }
        offsets[number] = position;
        Text($"{number} 0 obj\n<<{dictionary}/Length {body.Length}>>\nstream\n");
        using (var counted = new CountingStream(target))
        {
            body.CopyTo(counted);
            if (counted.Count != body.Length)
                throw new InvalidOperationException($"A picture announced {body.Length} bytes and gave {counted.Count}.");
        }
        position += body.Length;
        Text("\nendstream\nendobj\n");
    }

    private void CrossReference(Match trailer)
    {
        var start = position;
        Text("xref\n");
        foreach (var (number, offset) in offsets)
            Text($"{number} 1\n{offset:D10} 00000 n \n");
        var entries = Size().Replace(trailer.Groups["entries"].Value, $"/Size {next}");
        Text($"trailer\n<<{entries}/Prev {trailer.Groups["start"].Value}>>\nstartxref\n{start}\n%%EOF\n");
    }

    private void Text(FormattableString text) => Text(FormattableString.Invariant(text));

    private void Text(string text)
    {
        var bytes = Encoding.Latin1.GetBytes(text);
        target.Write(bytes);
        position += bytes.Length;
    }

    [GeneratedRegex(@"trailer\s*<<(?<entries>.*?/Size (?<size>\d+).*?)>>[^<>]*startxref\s+(?<start>\d+)", RegexOptions.Singleline, 30_000)]
    private static partial Regex Trailer();

    [GeneratedRegex(@"/Size \d+", RegexOptions.None, 30_000)]
    private static partial Regex Size();

    private sealed class CountingStream(Stream inner) : Stream
    {
        public long Count { get; private set; }
        public override bool CanRead => false;
        public override bool CanSeek => false;
        public override bool CanWrite => true;
        public override long Length => Count;
        public override long Position
        {
            get => Count;
            set => throw new NotSupportedException();
        }

        public override void Flush() => inner.Flush();

        public override int Read(byte[] buffer, int offset, int count) => throw new NotSupportedException();

        public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

        public override void SetLength(long value) => throw new NotSupportedException();

        public override void Write(byte[] buffer, int offset, int count) => Write(buffer.AsSpan(offset, count));

        public override void Write(ReadOnlySpan<byte> buffer)
        {
            inner.Write(buffer);
            Count += buffer.Length;
        }
    }
}

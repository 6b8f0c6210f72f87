using System.Text;

namespace ShopFloor.Web.Office.Exchange;

/// <summary>The text of a file, and how its bytes were read.</summary>
/// <param name="Text">Without a byte order mark.</param>
/// <param name="ReadAs">Name of the encoding.</param>
public sealed record FileText(string Text, string ReadAs)
{
    /// <summary>What spreadsheets on Windows write when they are not told otherwise.</summary>
    public const string Western = "Windows-1252";

    private const int MostWords = 5;

    private static readonly UTF8Encoding Strict = new(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true);

    /// <summary>Some words with letters beyond the English ones, which show whether the file was read as it was meant.</summary>
    public IReadOnlyList<string> Samples =>
        [
            .. Text.Split([' ', ',', ';', '\t', '\r', '\n', '"'], StringSplitOptions.RemoveEmptyEntries)
                .Where(w => w.Any(c => c > 127))
                .Distinct(StringComparer.Ordinal)
                .Take(MostWords)
                .Select(w => w.Length > 40 ? w[..40] + "…" : w),
        ];

    /// <summary>Reads the bytes of a file: as its byte order mark says, else as UTF-8 where they are that without a fault, else as Windows-1252.</summary>
    public static FileText Of(byte[] bytes)
    {
        foreach (var marked in new[] { Encoding.UTF8, Encoding.Unicode, Encoding.BigEndianUnicode })
            if (bytes.AsSpan().StartsWith(marked.Preamble))
                return new FileText(marked.GetString(bytes.AsSpan(marked.Preamble.Length)), marked.WebName.ToUpperInvariant());
        try
        {
            return new FileText(Strict.GetString(bytes), Encoding.UTF8.WebName.ToUpperInvariant());
        }
        catch (DecoderFallbackException)
        {
            return new FileText(CodePagesEncodingProvider.Instance.GetEncoding(1252)!.GetString(bytes), Western);
        }
    }
}

using System.Collections.Concurrent;
using System.Text;
using PdfSharp.Drawing;
using PdfSharp.Fonts;
using PdfSharp.Pdf;
using SkiaSharp;

namespace ShopFloor.Documents.Pdf;

/// <summary>The weights that are shipped.</summary>
public enum TypeFace
{
    /// <summary>Running text.</summary>
    Regular,

    /// <summary>Headings and what must stand out.</summary>
    SemiBold,

    /// <summary>Codes and big words.</summary>
    Bold,
}

/// <summary>The shipped fonts: found once per process, safe from any thread.</summary>
public static class TypeFaces
{
    /// <summary>Drawn in place of a character that the fonts lack.</summary>
    public const char Stand = '\u25A1';

    private static readonly ConcurrentDictionary<(TypeFace Face, int Rune), float> Advances = new();
    private static readonly Lazy<Dictionary<TypeFace, Loaded>> Faces = new(LoadAll);

    private sealed record Loaded(string Name, SKTypeface Typeface);

    /// <summary>The text as it can be drawn: composed, without control characters, what is missing replaced by <see cref="Stand"/>.</summary>
    /// <param name="text">Any text.</param>
    /// <param name="missing">Takes each character that was replaced.</param>
    public static string Drawable(string text, ICollection<string>? missing = null)
    {
        var drawn = new StringBuilder(text.Length);
        // A lone half of a surrogate pair comes out of EnumerateRunes as U+FFFD, but Normalize would throw on it.
        var whole = string.Concat(text.EnumerateRunes()).Normalize(NormalizationForm.FormC);
        foreach (var rune in whole.EnumerateRunes())
        {
            if (Rune.IsControl(rune) || rune.Value is >= 0x200B and <= 0x200F or 0xFEFF or 0xFE0F)
                continue;
            if (Advance(TypeFace.Regular, rune) >= 0)
                drawn.Append(rune);
            else
            {
                drawn.Append(Stand);
                missing?.Add(rune.ToString());
            }
        }
        return drawn.ToString();
    }

    /// <summary>The characters of a text that the shipped fonts cannot show, each once.</summary>
    public static IReadOnlyList<string> Missing(string text)
    {
        var missing = new List<string>();
        Drawable(text, missing);
        return [.. missing.Distinct(StringComparer.Ordinal)];
    }

    /// <summary>Width of a drawable text in millimetres at a size in points.</summary>
    internal static double WidthMm(string text, TypeFace face, double sizePt)
    {
        var sum = 0d;
        foreach (var rune in text.EnumerateRunes())
            sum += Math.Max(0, Advance(face, rune));
        return PdfUnit.Millimetres(sum / 1000 * sizePt);
    }

    internal static XFont Font(TypeFace face, double sizePt) =>
        new(Faces.Value[face].Name, sizePt, XFontStyleEx.Regular, new XPdfFontOptions(PdfFontEncoding.Unicode));

    /// <summary>Advance in thousandths of the size; -1 when the fonts have no such character.</summary>
    private static float Advance(TypeFace face, Rune rune) =>
        Advances.GetOrAdd(
            (face, rune.Value),
            static key =>
            {
                using var font = new SKFont(Faces.Value[key.Face].Typeface, 1000)
                {
                    Hinting = SKFontHinting.None,
                    LinearMetrics = true,
                    Subpixel = true,
                };
                var text = new Rune(key.Rune).ToString();
                return font.ContainsGlyphs(text) ? font.MeasureText(text) : -1;
            }
        );

    private static Dictionary<TypeFace, Loaded> LoadAll()
    {
        var loaded = new Dictionary<TypeFace, Loaded>();
        var bytes = new Dictionary<string, byte[]>(StringComparer.Ordinal);
        foreach (var face in Enum.GetValues<TypeFace>())
        {
            var name = $"Inter-Tabular-{face}";
            using var stream =
                typeof(TypeFaces).Assembly.GetManifestResourceStream($"ShopFloor.Documents.Fonts.{name}.ttf")
                ?? throw new InvalidOperationException($"The font {name} is not in the assembly.");
            var data = new byte[stream.Length];
            stream.ReadExactly(data);
            bytes[name] = data;
            loaded[face] = new Loaded(name, SKTypeface.FromData(SKData.CreateCopy(data)));
        }
        GlobalFontSettings.FontResolver = new Resolver(bytes);
        return loaded;
    }

    private sealed class Resolver(Dictionary<string, byte[]> bytes) : IFontResolver
    {
        public byte[]? GetFont(string faceName) => bytes.GetValueOrDefault(faceName);

        public FontResolverInfo? ResolveTypeface(string familyName, bool isBold, bool isItalic) =>
            bytes.ContainsKey(familyName) ? new FontResolverInfo(familyName) : null;
    }
}

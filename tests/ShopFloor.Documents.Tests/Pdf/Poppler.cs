using System.Diagnostics;
using SkiaSharp;

namespace ShopFloor.Documents.Tests.Pdf;

/// <summary>Looks at a PDF from outside, with the tools of poppler.</summary>
public static class Poppler
{
    public static string Info(byte[] pdf, params string[] options) => Text("pdfinfo", pdf, [.. options, "IN"]);

    public static string Words(byte[] pdf, params string[] options) => Text("pdftotext", pdf, [.. options, "IN", "-"]);

    public static string Fonts(byte[] pdf) => Text("pdffonts", pdf, ["IN"]);

    public static string Images(byte[] pdf) => Text("pdfimages", pdf, ["-list", "IN"]);

    /// <summary>The first page as pixels.</summary>
    public static SKBitmap Page(byte[] pdf, int dpi, int page = 1, bool blackAndWhite = false)
    {
        using var folder = new TempFolder();
        var number = page.ToString(CultureInfo.InvariantCulture);
        string[] options = blackAndWhite ? ["-mono", "-png"] : ["-png"];
        Run(
            "pdftoppm",
            pdf,
            folder,
            [
                .. options,
                "-r",
                dpi.ToString(CultureInfo.InvariantCulture),
                "-f",
                number,
                "-l",
                number,
                "-singlefile",
                "IN",
                folder.File("page"),
            ]
        );
        return SKBitmap.Decode(folder.File("page.png"));
    }

    /// <summary>The files that <c>pdfimages</c> takes out, byte for byte where the format allows.</summary>
    public static IReadOnlyList<byte[]> ImageFiles(byte[] pdf)
    {
        using var folder = new TempFolder();
        Run("pdfimages", pdf, folder, ["-all", "IN", folder.File("image")]);
        return [.. Directory.GetFiles(folder.Path, "image*").Order(StringComparer.Ordinal).Select(File.ReadAllBytes)];
    }

    private static string Text(string tool, byte[] pdf, string[] arguments)
    {
        using var folder = new TempFolder();
        return Run(tool, pdf, folder, arguments);
    }

    private static string Run(string tool, byte[] pdf, TempFolder folder, string[] arguments)
    {
        var file = folder.File("in.pdf");
        File.WriteAllBytes(file, pdf);
        return Tool.Run(tool, [.. arguments.Select(a => a == "IN" ? file : a)]);
    }
}

/// <summary>Runs a program of the machine; it must end well and say nothing on its error stream.</summary>
public static class Tool
{
    public static string Run(string tool, params string[] arguments)
    {
        var start = new ProcessStartInfo(tool, arguments)
        {
            UseShellExecute = false,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        start.StandardOutputEncoding = System.Text.Encoding.UTF8;
        using var process = Process.Start(start) ?? throw new InvalidOperationException($"{tool} did not start.");
        var errors = process.StandardError.ReadToEndAsync();
        var output = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        Assert.True(process.ExitCode == 0, $"{tool} {string.Join(' ', arguments)}: {errors.Result}");
        // zbarimg complains where no message bus runs, which has nothing to do with the code it reads.
        Assert.True(errors.Result.Length == 0 || tool == "zbarimg", $"{tool} {string.Join(' ', arguments)}: {errors.Result}");
        return output;
    }
}

/// <summary>A folder that goes away with the test.</summary>
public sealed class TempFolder : IDisposable
{
    public string Path { get; } = Directory.CreateTempSubdirectory("shopfloor-test-").FullName;

    public string File(string name) => System.IO.Path.Combine(Path, name);

    public void Dispose() => Directory.Delete(Path, recursive: true);
}

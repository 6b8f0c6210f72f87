using System.Diagnostics;

namespace ShopFloor.Documents.Tests.EInvoice;

/// <summary>
/// A validator for the official UBL 2.1 schema and the rules of EN 16931 that lies outside this repository. It is looked for where
/// SHOPFLOOR_EINVOICE_VALIDATOR points, else at shared/einvoice/validator/validate.sh beside the repository or beside the folder it is in.
/// It needs a JDK (Debian: default-jdk-headless) and Saxon-HE (Debian: libsaxonhe-java).
/// </summary>
internal sealed class OutsideValidator
{
    private readonly string script;

    private OutsideValidator(string script) => this.script = script;

    public static OutsideValidator? Find()
    {
        var named = Environment.GetEnvironmentVariable("SHOPFLOOR_EINVOICE_VALIDATOR");
        if (!string.IsNullOrWhiteSpace(named))
            return File.Exists(named)
                ? new OutsideValidator(named)
                : throw new FileNotFoundException("SHOPFLOOR_EINVOICE_VALIDATOR points to no file.", named);
        var found = Above(SourceTree.Root)
            .Select(f => Path.Combine(f, "shared", "einvoice", "validator", "validate.sh"))
            .FirstOrDefault(File.Exists);
        return found is null ? null : new OutsideValidator(found);
    }

    /// <summary>Validates all files of a folder in one Java process, with official rules, warnings as errors, and exact recalculation.</summary>
    public (int ExitCode, string Said) Run(string folder, string classes)
    {
        var start = new ProcessStartInfo("sh", [script, "--strict", "--exact", "--tsv", "-"])
        {
            UseShellExecute = false,
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        start.Environment["VALIDATE_BUILD"] = classes;
        using var process = Process.Start(start)!;
        var errors = process.StandardError.ReadToEndAsync();
        var said = process.StandardOutput.ReadToEndAsync();
        foreach (var file in Directory.EnumerateFiles(folder, "*.xml").Order(StringComparer.Ordinal))
            process.StandardInput.WriteLine(file);
        process.StandardInput.Close();
        process.WaitForExit();
        return (process.ExitCode, said.Result + errors.Result);
    }

    private static IEnumerable<string> Above(string root)
    {
        for (var folder = Path.GetDirectoryName(root); folder is not null && folder.Length > 1; folder = Path.GetDirectoryName(folder))
            yield return folder;
    }
}

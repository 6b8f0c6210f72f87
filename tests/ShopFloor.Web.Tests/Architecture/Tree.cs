using System.Runtime.CompilerServices;

namespace ShopFloor.Web.Tests.Architecture;

/// <summary>The source tree as the architecture tests see it.</summary>
public static class Tree
{
    /// <summary>The folder of the solution.</summary>
    public static string Root { get; } = FindRoot();

    /// <summary>Files below a folder of the tree that a person wrote, with paths from the root and forward slashes.</summary>
    public static IReadOnlyList<string> Files(string folder, params string[] endings) =>
        [
            .. Directory
                .EnumerateFiles(Path.Combine(Root, folder), "*", SearchOption.AllDirectories)
                .Select(f => Path.GetRelativePath(Root, f).Replace('\\', '/'))
                .Where(f => endings.Any(e => f.EndsWith(e, StringComparison.Ordinal)))
                .Where(f => !f.Split('/').Any(part => part is "bin" or "obj" or "Migrations" or "screenshots"))
                .Order(StringComparer.Ordinal),
        ];

    public static string[] Lines(string file) => File.ReadAllLines(Path.Combine(Root, file));

    public static string Text(string file) => File.ReadAllText(Path.Combine(Root, file));

    private static string FindRoot([CallerFilePath] string here = "")
    {
        var folder = new DirectoryInfo(Path.GetDirectoryName(here)!);
        while (!File.Exists(Path.Combine(folder.FullName, "ShopFloor.sln")))
            folder = folder.Parent ?? throw new DirectoryNotFoundException("No ShopFloor.sln above the tests.");
        return folder.FullName;
    }
}

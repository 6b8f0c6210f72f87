namespace ShopFloor.Documents.Tests;

/// <summary>The repository that the tests were built from.</summary>
internal static class SourceTree
{
    /// <summary>The folder of the solution.</summary>
    public static string Root { get; } = FindRoot();

    /// <summary>A folder below it.</summary>
    public static string Folder(string path) => Path.Combine(Root, path);

    private static string FindRoot()
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "ShopFloor.sln")))
            folder = Path.GetDirectoryName(folder) ?? throw new DirectoryNotFoundException("The tests run outside their repository.");
        return folder;
    }
}

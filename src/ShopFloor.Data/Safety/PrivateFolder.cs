namespace ShopFloor.Data.Safety;

/// <summary>Folders that only the user may look into whom the program runs as: what lies in them is the workshop's and its customers'.</summary>
public static class PrivateFolder
{
    /// <summary>Makes it where it is not there; one that is there stays as open as it was made.</summary>
    /// <returns>Its full path.</returns>
    public static string Create(string path) =>
        OperatingSystem.IsWindows()
            ? Directory.CreateDirectory(path).FullName
            : Directory.CreateDirectory(path, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute).FullName;
}

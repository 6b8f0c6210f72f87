using ShopFloor.Data.Safety;

namespace ShopFloor.Web.Hosting;

/// <summary>A file to write an answer into before it is sent: a zip that breaks off half way would look like a whole one, and is written in part without waiting, which a connection refuses.</summary>
internal static class AsideFile
{
    /// <summary>A new one, gone when it is closed.</summary>
    public static FileStream New(HostSettings settings) =>
        new(
            AsideFolder.NewFile(settings.DataFolder),
            FileMode.CreateNew,
            FileAccess.ReadWrite,
            FileShare.None,
            81_920,
            FileOptions.DeleteOnClose | FileOptions.Asynchronous
        );
}

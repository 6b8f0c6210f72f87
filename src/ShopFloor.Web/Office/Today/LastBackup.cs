using ShopFloor.Web.Hosting;

namespace ShopFloor.Web.Office.Today;

/// <summary>When the last backup was made, as far as its folder tells.</summary>
public sealed class LastBackup(HostSettings settings) : Commands.IPageView
{
    /// <summary>A backup older than this is pointed out (common practice, no source).</summary>
    public static readonly TimeSpan Old = TimeSpan.FromDays(7);

    /// <summary>The newest one's instant, UTC; null: there is none.</summary>
    public DateTimeOffset? At
    {
        get
        {
            var folder = new DirectoryInfo(Path.Combine(settings.DataFolder, "backups"));
            var newest = folder.Exists ? folder.EnumerateFiles("*.db").MaxBy(f => f.LastWriteTimeUtc) : null;
            return newest is null ? null : new DateTimeOffset(newest.LastWriteTimeUtc, TimeSpan.Zero);
        }
    }
}

using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Safety;
using ShopFloor.Domain;
using ShopFloor.Web.Background.Rounds;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Office.Today;

namespace ShopFloor.Web.Office.Backups;

/// <summary>A backup in the list.</summary>
/// <param name="Name">Its file.</param>
/// <param name="Made">When, shop-local.</param>
/// <param name="Bytes">Its size.</param>
/// <param name="IsSealed">Only the passphrase opens it.</param>
/// <param name="Trial">When it was put back for trial; null: it was not.</param>
public sealed record BackupRow(string Name, DateTime Made, long Bytes, bool IsSealed, RestoreTrial? Trial)
{
    /// <summary>It is dated in the future: it counts for nothing until then.</summary>
    public bool IsAhead { get; init; }
}

/// <summary>The backups that are there.</summary>
/// <param name="Rows">Newest first.</param>
/// <param name="State">How safe the data is.</param>
/// <param name="Folder">Where they lie.</param>
/// <param name="Kept">So many are kept.</param>
/// <param name="Seals">New ones are sealed.</param>
/// <param name="Pictures">Pictures that lie beside them.</param>
/// <param name="PictureBytes">Their size.</param>
public sealed record BackupSheet(
    IReadOnlyList<BackupRow> Rows,
    BackupState State,
    string Folder,
    int Kept,
    bool Seals,
    int Pictures,
    long PictureBytes
);

/// <summary>Reads which backups there are, and looks at one of them.</summary>
public sealed class BackupListView(IDbContextFactory<ShopContext> contexts, KeepBackup backups, TimeProvider time) : IPageView
{
    /// <summary>All of them.</summary>
    public async Task<BackupSheet> LoadAsync(CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var now = time.GetUtcNow();
        var settings = await CurrentSettings.LoadAsync(context, now, cancel);
        var trials = await context
            .SecurityEvents.AsNoTracking()
            .Where(e => e.What == RehearseRestore.What)
            .OrderByDescending(e => e.At)
            .Take(200)
            .ToListAsync(cancel);
        RestoreTrial? Trial(string name) =>
            trials.Find(t => t.Subject.StartsWith(name + ":", StringComparison.Ordinal)) is { } t
                ? new RestoreTrial(settings.Day(t.At), t.IsGood, t.Subject[(name.Length + 2)..])
                : null;
        var pictures = backups.Newest is { } newest ? PicturesBack.Beside(newest) : [];
        return new BackupSheet(
            [
                .. backups.All.Select(f => new BackupRow(
                    f.Name,
                    TimeZoneInfo.ConvertTimeFromUtc(f.LastWriteTimeUtc, settings.Zone),
                    f.Length,
                    SealedFile.IsSealed(f.Name),
                    Trial(f.Name)
                )
                {
                    IsAhead = backups.IsAhead(f),
                }),
            ],
            await BackupState.LoadAsync(context, backups, (settings, now), cancel),
            backups.Folder,
            backups.Kept,
            backups.Keys is not null,
            pictures.Count,
            pictures.Sum(p => p.Length)
        );
    }

    /// <summary>The file of a backup in the list; null when there is none of that name.</summary>
    public FileInfo? Find(string name) => backups.All.FirstOrDefault(f => f.Name == name);

    /// <summary>Looks whether a backup is still what was written and a sound database.</summary>
    public async Task<Result<Done>> CheckAsync(string name, CancellationToken cancel = default)
    {
        if (Find(name) is not { } file)
            return new Refusal("backup-missing", "This backup is no longer there.");
        try
        {
            await Rehearsal.CheckDigestAsync(file.FullName, cancel);
            using var folder = AsideFolder.New(backups.DataFolder, "check");
            using var opened = OpenedBackup.Of(file.FullName, folder.Path, backups.Keys);
            // SQLite makes files beside one that it opens: not beside a backup.
            var copy = Path.Combine(folder.Path, "copy.db");
            File.Copy(opened.File, copy);
            Backup.Verify(copy);
            return default(Done);
        }
        catch (Exception no) when (no is InvalidDataException or IOException or SqliteException or UnauthorizedAccessException)
        {
            return new Refusal("backup-bad", $"{name}: {no.Message}");
        }
    }
}

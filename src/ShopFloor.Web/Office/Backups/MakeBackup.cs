using Microsoft.Data.Sqlite;
using ShopFloor.Domain;
using ShopFloor.Web.Background.Rounds;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Office.Backups;

/// <summary>What is wanted of the backups now.</summary>
public enum BackupWish
{
    /// <summary>A new one.</summary>
    Make,

    /// <summary>The newest put back for trial.</summary>
    TryRestore,
}

/// <summary>Makes a backup, or tries putting the newest back, when the owner asks. The right is checked and noted first; the work holds up nobody.</summary>
public sealed class MakeBackup(CommandRunner runner, KeepBackup backups, RehearseRestore rehearse) : IUseCase
{
    /// <summary>Does it.</summary>
    public async Task<Result<Done>> RunAsync(Asked asked, BackupWish wish, CancellationToken cancel = default)
    {
        var allowed = await runner.RunAsync<BackupWish, Done>(
            nameof(MakeBackup),
            Allowed.Owner,
            asked,
            wish,
            work =>
            {
                work.NoteSafety(wish == BackupWish.Make ? "backup asked for" : "trial restore asked for", "");
                work.Touch(Topic.Settings, Guid.Empty);
                return Task.FromResult(Result<Done>.Ok(default));
            },
            cancel
        );
        if (!allowed.IsOk)
            return allowed;
        return wish == BackupWish.Make ? await Task.Run(Make, cancel) : await TryAsync(cancel);
    }

    private Result<Done> Make()
    {
        try
        {
            backups.RunNow();
            return backups.PictureTrouble is { } trouble
                ? new Refusal("backup-pictures", $"The backup is made, but the pictures beside it are not up to date: {trouble}")
                : default(Done);
        }
        catch (Exception no) when (no is InvalidDataException or IOException or SqliteException or UnauthorizedAccessException)
        {
            return new Refusal("backup-failed", $"The backup could not be made: {no.Message}");
        }
    }

    private async Task<Result<Done>> TryAsync(CancellationToken cancel) =>
        await rehearse.RunAsync(now: true, cancel) switch
        {
            true => default(Done),
            false => new Refusal("trial-failed", "Putting it back did not work. The list says why."),
            null => new Refusal("backup-missing", "There is no backup yet."),
        };
}

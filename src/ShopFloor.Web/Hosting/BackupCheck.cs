using Microsoft.Extensions.Diagnostics.HealthChecks;
using ShopFloor.Data;
using ShopFloor.Web.Background.Rounds;

namespace ShopFloor.Web.Hosting;

/// <summary>The last backup that is not dated in the future is not older than a day and a half; before the first one, the database itself is not. The pictures beside them are up to date, and none is missing that the backups have.</summary>
public sealed class BackupCheck(KeepBackup backup, HostSettings settings, TimeProvider time) : IHealthCheck
{
    private static readonly TimeSpan Oldest = TimeSpan.FromHours(36);

    public Task<HealthCheckResult> CheckHealthAsync(HealthCheckContext context, CancellationToken cancellationToken = default)
    {
        var last = backup.Last;
        var (since, said) = last is { } at
            ? (at, $"The last backup is of {at:u}.")
            : (new DateTimeOffset(File.GetCreationTimeUtc(ShopDatabase.FileIn(settings.DataFolder))), "There is no backup yet.");
        if (backup.Ahead is > 0 and var ahead)
            said += $" {ahead} are dated in the future and do not count: was the clock ahead?";
        if (backup.PictureTrouble is not null)
            return Task.FromResult(HealthCheckResult.Degraded("The pictures beside the backups are not up to date."));
        if (backup.Lacking > 0)
            return Task.FromResult(
                HealthCheckResult.Degraded($"{backup.Lacking} pictures lie beside the backups and are missing in the data folder.")
            );
        return Task.FromResult(time.GetUtcNow() - since > Oldest ? HealthCheckResult.Degraded(said) : HealthCheckResult.Healthy(said));
    }
}

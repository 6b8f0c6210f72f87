using Microsoft.Extensions.Diagnostics.HealthChecks;
using ShopFloor.Web.Background.Rounds;

namespace ShopFloor.Web.Hosting;

/// <summary>The last backup is not older than a day and a half.</summary>
public sealed class BackupCheck(KeepBackup backup, TimeProvider time) : IHealthCheck
{
    private static readonly TimeSpan Oldest = TimeSpan.FromHours(36);

    public Task<HealthCheckResult> CheckHealthAsync(HealthCheckContext context, CancellationToken cancellationToken = default) =>
        Task.FromResult(
            backup.Last is not { } last ? HealthCheckResult.Degraded("There is no backup yet.")
            : time.GetUtcNow() - last > Oldest ? HealthCheckResult.Degraded($"The last backup is of {last:u}.")
            : HealthCheckResult.Healthy($"The last backup is of {last:u}.")
        );
}

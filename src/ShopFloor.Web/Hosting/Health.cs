using Microsoft.AspNetCore.Diagnostics.HealthChecks;
using Microsoft.Extensions.Diagnostics.HealthChecks;
using ShopFloor.Data;
using ShopFloor.Web.Background.Rounds;

namespace ShopFloor.Web.Hosting;

/// <summary>Two questions of whoever watches the program: is it alive, can it work. Strangers get one word.</summary>
public static class Health
{
    private const string Ready = "ready";

    public static void AddHealth(this IServiceCollection services) =>
        services
            .AddSingleton<WriteCheck>()
            .AddHealthChecks()
            .AddDbContextCheck<ShopContext>("database", tags: [Ready])
            .AddCheck<WriteCheck>("write", tags: [Ready])
            .AddCheck<SoundCheck>("sound", tags: [Ready])
            .AddCheck<DiskCheck>("disk", tags: [Ready])
            .AddCheck<BackupCheck>("backup", tags: [Ready]);

    public static void MapHealth(this IEndpointRouteBuilder app)
    {
        app.MapHealthChecks("/health/live", new HealthCheckOptions { Predicate = _ => false }).AllowAnonymous();
        app.MapHealthChecks("/health/ready", new HealthCheckOptions { Predicate = c => c.Tags.Contains(Ready) }).AllowAnonymous();
    }
}

/// <summary>The last check of the whole database found nothing.</summary>
public sealed class SoundCheck(CheckDatabase check) : IHealthCheck
{
    public Task<HealthCheckResult> CheckHealthAsync(HealthCheckContext context, CancellationToken cancellationToken = default) =>
        Task.FromResult(check.Trouble is { } trouble ? HealthCheckResult.Degraded(trouble) : HealthCheckResult.Healthy());
}

/// <summary>The data folder takes a file and has room.</summary>
public sealed class DiskCheck(HostSettings settings) : IHealthCheck
{
    private const long LeastFree = 200_000_000;

    public async Task<HealthCheckResult> CheckHealthAsync(HealthCheckContext context, CancellationToken cancellationToken = default)
    {
        var free = new DriveInfo(settings.DataFolder).AvailableFreeSpace;
        if (free < LeastFree)
            return HealthCheckResult.Unhealthy($"Only {free / 1_000_000} MB are free in the data folder.");
        var probe = Path.Combine(settings.DataFolder, $".probe-{Guid.NewGuid():N}");
        try
        {
            await File.WriteAllTextAsync(probe, "", cancellationToken);
            File.Delete(probe);
            return HealthCheckResult.Healthy();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return HealthCheckResult.Unhealthy("The data folder cannot be written to.", e);
        }
    }
}

using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Diagnostics.HealthChecks;
using ShopFloor.Data;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Hosting;

/// <summary>The database can be written: the write lock is taken and given back. One look serves whoever asks within a few seconds.</summary>
public sealed class WriteCheck(IDbContextFactory<ShopContext> contexts, WriteGate gate, TimeProvider time) : IHealthCheck
{
    // Strangers may ask as often as they like, and each look takes a writer's turn (common practice, no source).
    private static readonly TimeSpan Serves = TimeSpan.FromSeconds(5);
    private readonly Lock door = new();
    private DateTimeOffset? looked;
    private HealthCheckResult last = HealthCheckResult.Healthy();

    public async Task<HealthCheckResult> CheckHealthAsync(HealthCheckContext context, CancellationToken cancellationToken = default)
    {
        lock (door)
        {
            var now = time.GetUtcNow();
            if (looked is { } at && now - at < Serves)
                return last;
            looked = now;
        }
        var found = await LookAsync(cancellationToken);
        lock (door)
            (looked, last) = (time.GetUtcNow(), found);
        return found;
    }

    private async Task<HealthCheckResult> LookAsync(CancellationToken cancel)
    {
        using var turn = await gate.EnterAsync(cancel);
        try
        {
            await using var context = await contexts.CreateDbContextAsync(cancel);
            await using var transaction = await context.Database.BeginTransactionAsync(cancel);
            return HealthCheckResult.Healthy();
        }
        catch (Exception barred) when (CannotWrite.Of(barred) is { } why)
        {
            return HealthCheckResult.Unhealthy(why.Text, barred);
        }
    }
}

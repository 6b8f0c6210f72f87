using Microsoft.Data.Sqlite;
using Microsoft.Extensions.Diagnostics.HealthChecks;
using Microsoft.Extensions.Logging.Abstractions;
using ShopFloor.Data;
using ShopFloor.Web.Background.Rounds;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Data;

/// <summary>The live database is checked as a whole each night, and what is found is said.</summary>
public sealed class CheckDatabaseTests
{
    [Fact]
    public async Task RunIfDue_RowThatBelongsToNothing_IsDegradedUntilItIsPutRight()
    {
        await using var shop = await TestShop.EmptyAsync();
        var check = new CheckDatabase(new HostSettings { DataFolder = shop.Folder }, shop.Clock, NullLogger<CheckDatabase>.Instance);
        var health = new SoundCheck(check);
        Assert.True(check.RunIfDue());
        Assert.Null(check.RunIfDue());
        Assert.Equal(HealthStatus.Healthy, (await health.CheckHealthAsync(new())).Status);

        await ChangeAsync(shop, "INSERT INTO AspNetUserRoles (UserId, RoleId) VALUES ('nobody', 'nothing')");
        shop.Clock.Advance(TimeSpan.FromDays(1));
        Assert.False(check.RunIfDue());
        Assert.Equal(HealthStatus.Degraded, (await health.CheckHealthAsync(new())).Status);

        await ChangeAsync(shop, "DELETE FROM AspNetUserRoles");
        shop.Clock.Advance(TimeSpan.FromDays(1));
        Assert.True(check.RunIfDue());
        Assert.Equal(HealthStatus.Healthy, (await health.CheckHealthAsync(new())).Status);
    }

    private static async Task ChangeAsync(TestShop shop, string sql)
    {
        await using var database = new SqliteConnection($"Data Source={ShopDatabase.FileIn(shop.Folder)};Pooling=False;Foreign Keys=False");
        await database.OpenAsync();
        await using var change = database.CreateCommand();
        change.CommandText = sql;
        await change.ExecuteNonQueryAsync();
    }
}

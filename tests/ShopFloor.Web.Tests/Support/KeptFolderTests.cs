using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Data.Safety;
using ShopFloor.Web.Background.Demo;

namespace ShopFloor.Web.Tests.Support;

/// <summary>A test on a copied shop stands on the same ground as one that the program began itself.</summary>
public sealed class KeptFolderTests
{
    [Fact]
    public async Task EmptyAsync_Copy_IsWhatTheGuardedStartMakes()
    {
        await using var shop = await TestShop.EmptyAsync();
        await using var copy = await shop.ContextAsync();
        var folder = Directory.CreateTempSubdirectory("shopfloor-test-").FullName;
        var options = new DbContextOptionsBuilder<ShopContext>();
        ShopDatabase.Configure(options, ShopDatabase.FileIn(folder));
        await using (var begun = new ShopContext(options.Options))
        {
            await GuardedStart.RunAsync(begun, folder, shop.Clock.GetUtcNow(), CancellationToken.None);
            Assert.Equal(await StandAsync(begun), await StandAsync(copy));
        }
        KeptFolder.Delete(folder);
    }

    [Fact]
    public async Task DemoAsync_Copy_PassesTheStartUnchangedAndHasItsPictures()
    {
        await using var shop = await TestShop.DemoAsync();
        await using var context = await shop.ContextAsync();
        var report = await GuardedStart.RunAsync(context, shop.Folder, shop.Clock.GetUtcNow(), CancellationToken.None);
        Assert.False(report.Created);
        Assert.Empty(report.Applied);
        Assert.False(await shop.Get<DemoWorkshop>().RunAsync());
        var pictures = await context.Pictures.Select(p => p.Id).ToListAsync();
        Assert.NotEmpty(pictures);
        Assert.All(pictures, p => Assert.True(File.Exists(Path.Combine(shop.Folder, PicturesBack.Folder, $"{p.Value:N}.clean"))));
    }

    [Fact]
    public async Task DemoAsync_ChangedByOneTest_IsUnchangedForTheNext()
    {
        await using var first = await TestShop.DemoAsync();
        await first.WorkerAsync(WorkerRole.Owner);
        await using var next = await TestShop.DemoAsync();
        await using var context = await next.ContextAsync();
        Assert.Empty(await context.Users.ToListAsync());
    }

    // How it is opened, and what tables and migrations it has.
    private static async Task<IReadOnlyList<string>> StandAsync(ShopContext context)
    {
        var found = new List<string>();
        foreach (
            var sql in (string[])
                [
                    "SELECT journal_mode AS Value FROM pragma_journal_mode",
                    "SELECT CAST(synchronous AS TEXT) AS Value FROM pragma_synchronous",
                    "SELECT CAST(foreign_keys AS TEXT) AS Value FROM pragma_foreign_keys",
                    "SELECT name || ': ' || ifnull(sql, '') AS Value FROM sqlite_schema ORDER BY name",
                    "SELECT MigrationId AS Value FROM __EFMigrationsHistory ORDER BY MigrationId",
                ]
        )
            found.AddRange(await context.Database.SqlQueryRaw<string>(sql).ToListAsync());
        Assert.Contains("wal", found);
        return found;
    }
}

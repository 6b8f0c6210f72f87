using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Data;

/// <summary>A disk without room is said in words, whether SQLite sees it while it writes or only at the commit.</summary>
public sealed class FullDiskTests
{
    [Fact]
    public async Task Run_DiskIsFullAtTheCommit_IsRefusedInWordsAndNothingIsSaved()
    {
        await using var shop = await TestShop.EmptyAsync();
        shop.CommitFails = new SqliteException("database or disk is full", 13);
        Assert.Equal("disk-full", await NoteAsync(shop, "small"));
        shop.CommitFails = null;
        Assert.Equal("", await NoteAsync(shop, "small"));
        await using var context = await shop.ContextAsync();
        Assert.Equal(1, await context.Audit.CountAsync());
    }

    [Fact]
    public async Task Run_NoPageIsLeft_IsRefusedInWordsAndNothingIsSaved()
    {
        await using var shop = await TestShop.EmptyAsync();
        await using (var context = await shop.ContextAsync())
        {
            // The least is as many pages as there are; it holds for the connection, which the command takes from the pool.
            await context.Database.OpenConnectionAsync();
            await context.Database.ExecuteSqlRawAsync("PRAGMA max_page_count = 1");
        }
        Assert.Equal("disk-full", await NoteAsync(shop, new string('x', 100_000)));
        await using var after = await shop.ContextAsync();
        Assert.Equal(0, await after.Audit.CountAsync());
    }

    private static async Task<string> NoteAsync(TestShop shop, string text)
    {
        var done = await shop.Get<CommandRunner>()
            .RunAsync<int, Done>(
                "Note",
                Allowed.System,
                Asked.BySystem(),
                1,
                work =>
                {
                    work.Audit("note", "disk", "", text);
                    return Task.FromResult(Result<Done>.Ok(default));
                }
            );
        return done.IsOk ? "" : done.Refusals[0].Code;
    }
}

using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.TestHost;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Shared;
using ShopFloor.Web.Shared.Uploads;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Data;

/// <summary>A database that cannot be written and a disk without room are said in words; nothing is saved, and later it goes.</summary>
public sealed class CannotWriteTests
{
    private static IOException NoRoom => new("No space left on device", 28);

    [Fact]
    public async Task Run_AnotherProgramHoldsTheDatabase_IsRefusedInWordsAndGoesAfterwards()
    {
        await using var shop = await TestShop.EmptyAsync();
        using (new HeldDatabase(shop.Folder))
            Assert.Equal("cannot-write", await NoteAsync(shop));
        Assert.Equal("", await NoteAsync(shop));
        await using var context = await shop.ContextAsync();
        Assert.Equal(1, await context.Audit.CountAsync());
    }

    [Theory]
    [InlineData(5, "cannot-write")]
    [InlineData(8, "cannot-write")]
    [InlineData(10, "cannot-write")]
    [InlineData(13, "disk-full")]
    [InlineData(14, "cannot-write")]
    public async Task Run_CommitFailsAtTheDisk_IsRefusedInWords(int code, string refusal)
    {
        await using var shop = await TestShop.EmptyAsync();
        shop.CommitFails = new SqliteException("it cannot", code);
        Assert.Equal(refusal, await NoteAsync(shop));
        shop.CommitFails = null;
        Assert.Equal("", await NoteAsync(shop));
    }

    [Fact]
    public async Task Run_FaultOfAnotherKind_IsNoRefusal()
    {
        await using var shop = await TestShop.EmptyAsync();
        shop.CommitFails = new SqliteException("constraint", 19);
        await Assert.ThrowsAsync<SqliteException>(() => NoteAsync(shop));
    }

    [Fact]
    public async Task Health_AnotherProgramHoldsTheDatabase_IsUnhealthyUntilItLetsGo()
    {
        await using var shop = await TestShop.EmptyAsync();
        var check = ActivatorUtilities.CreateInstance<WriteCheck>(shop.Get<IServiceProvider>());
        using (new HeldDatabase(shop.Folder))
            Assert.Contains("cannot be written", (await check.CheckHealthAsync(new())).Description, StringComparison.Ordinal);
        shop.Clock.Advance(TimeSpan.FromSeconds(5));
        Assert.Equal(Microsoft.Extensions.Diagnostics.HealthChecks.HealthStatus.Healthy, (await check.CheckHealthAsync(new())).Status);
    }

    [Fact]
    public async Task Upload_NoRoom_IsRefusedInWordsAndLeavesNothing()
    {
        await using var shop = await TestShop.EmptyAsync();
        var files = shop.Get<IncomingFiles>();
        await using var source = new Breaking();
        var taken = await files.TakeAsync(Guid.CreateVersion7(), source, default);
        Assert.Equal("disk-full", Assert.Single(taken.Refusals).Code);
        Assert.Empty(Directory.GetFiles(Path.Combine(shop.Folder, "incoming")));
    }

    [Fact]
    public async Task Request_EndsWithoutRoom_IsAnsweredInWords()
    {
        var builder = WebApplication.CreateBuilder();
        builder.WebHost.UseTestServer();
        builder.Services.AddLocalization().AddSingleton<Spoken>();
        await using var app = builder.Build();
        app.UseCannotWriteWords();
        app.MapGet("/full", string () => throw NoRoom);
        await app.StartAsync();
        using var client = app.GetTestClient();
        using var answer = await client.GetAsync("/full");
        Assert.Equal(503, (int)answer.StatusCode);
        Assert.Contains("The disk is full", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    private static async Task<string> NoteAsync(TestShop shop)
    {
        var done = await shop.Get<CommandRunner>()
            .RunAsync<int, Done>(
                "Note",
                Allowed.System,
                Asked.BySystem(),
                1,
                work =>
                {
                    work.Audit("note", "disk", "", "text");
                    return Task.FromResult(Result<Done>.Ok(default));
                }
            );
        return done.IsOk ? "" : done.Refusals[0].Code;
    }

    /// <summary>What comes in breaks off the way a disk without room breaks off.</summary>
    private sealed class Breaking : MemoryStream
    {
        public override ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken = default) => throw NoRoom;
    }
}

using System.Data.Common;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Diagnostics;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Time.Testing;
using ShopFloor.Data;
using ShopFloor.Data.Safety;
using ShopFloor.Documents.Imaging;
using ShopFloor.Web.Background.Rounds;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Live;
using ShopFloor.Web.Shared;
using ShopFloor.Web.Shared.Uploads;

namespace ShopFloor.Web.Tests.Support;

/// <summary>A shop of its own for one test: a real SQLite file in a temp folder, all use cases, a clock the test moves.</summary>
public sealed class TestShop : IAsyncDisposable
{
    private readonly ServiceProvider services;
    private readonly string folder;
    private readonly Commits commits = new();
    private readonly ReadCounter reads = new();

    private TestShop(string folder, FakeTimeProvider clock)
    {
        this.folder = folder;
        Clock = clock;
        var list = new ServiceCollection();
        list.AddLogging(l => l.SetMinimumLevel(LogLevel.Warning));
        list.AddSingleton<TimeProvider>(clock);
        list.AddSingleton<Notifier>();
        list.AddLocalization().AddSingleton<Spoken>();
        list.AddSingleton(new HostSettings { DataFolder = folder, WebhooksInside = true });
        list.AddSingleton(new PictureDoor());
        list.AddSingleton<PictureFolder>();
        list.AddSingleton<IDataProtectionProvider>(new EphemeralDataProtectionProvider());
        list.AddSending();
        list.AddSingleton<IncomingFiles>();
        list.AddSingleton<KeepBackup>();
        list.AddShop(folder);
        // "The first hundred" of rows in no order are other ones each time: a mistake wherever it stands.
        list.ConfigureDbContext<ShopContext>(o => o.ConfigureWarnings(w => w.Throw(CoreEventId.RowLimitingOperationWithoutOrderByWarning)));
        list.ConfigureDbContext<ShopContext>(o => o.AddInterceptors(commits, reads));
        services = list.BuildServiceProvider();
    }

    /// <summary>What the database answers to the next commits; null: it does them.</summary>
    public Exception? CommitFails
    {
        get => commits.Fault;
        set => commits.Fault = value;
    }

    /// <summary>What is asked of the database.</summary>
    public ReadCounter Reads => reads;

    /// <summary>The clock of every use case; stands still until moved.</summary>
    public FakeTimeProvider Clock { get; }

    /// <summary>The folder with database and files.</summary>
    public string Folder => folder;

    /// <summary>An empty, migrated shop at a Wednesday morning.</summary>
    public static async Task<TestShop> EmptyAsync()
    {
        var made = Directory.CreateTempSubdirectory("shopfloor-test-").FullName;
        var shop = new TestShop(made, new FakeTimeProvider(new DateTimeOffset(2026, 3, 4, 9, 0, 0, TimeSpan.Zero)));
        await using var context = await shop.ContextAsync();
        await GuardedStart.RunAsync(context, made, shop.Clock.GetUtcNow(), CancellationToken.None);
        return shop;
    }

    /// <summary>A service or use case in a scope of its own.</summary>
    public T Get<T>()
        where T : notnull => services.CreateScope().ServiceProvider.GetRequiredService<T>();

    /// <summary>A fresh context.</summary>
    public Task<ShopContext> ContextAsync() => services.GetRequiredService<IDbContextFactory<ShopContext>>().CreateDbContextAsync();

    /// <summary>The database passes over a change as if somebody else had been first, so that a save fails after all was decided.</summary>
    /// <param name="change">E.g. <c>UPDATE ON Orders</c>.</param>
    public async Task IgnoreAsync(string change)
    {
        await using var context = await ContextAsync();
        var sql = $"CREATE TRIGGER passed_over BEFORE {change} BEGIN SELECT RAISE(IGNORE); END";
        await context.Database.ExecuteSqlRawAsync(sql);
    }

    /// <summary>A worker with a role, signed in as nobody else.</summary>
    public async Task<Guid> WorkerAsync(string role)
    {
        await using var context = await ContextAsync();
        var found = await context.Roles.FirstOrDefaultAsync(r => r.Name == role);
        if (found is null)
            context.Roles.Add(
                found = new WorkerRole
                {
                    Id = Guid.CreateVersion7(),
                    Name = role,
                    NormalizedName = role.ToUpperInvariant(),
                }
            );
        var worker = new Worker
        {
            Id = Guid.CreateVersion7(),
            UserName = $"{role}-{Guid.NewGuid():N}",
            DisplayName = role,
        };
        context.Users.Add(worker);
        context.UserRoles.Add(new Microsoft.AspNetCore.Identity.IdentityUserRole<Guid> { UserId = worker.Id, RoleId = found.Id });
        await context.SaveChangesAsync();
        return worker.Id;
    }

    public async ValueTask DisposeAsync()
    {
        await services.DisposeAsync();
        SqliteConnection.ClearAllPools();
        // First: what a page still reads after its host has ended finds no database and makes no files beside it.
        File.Delete(ShopDatabase.FileIn(folder));
        Directory.Delete(folder, recursive: true);
    }

    private sealed class Commits : DbTransactionInterceptor
    {
        public Exception? Fault { get; set; }

        public override ValueTask<InterceptionResult> TransactionCommittingAsync(
            DbTransaction transaction,
            TransactionEventData eventData,
            InterceptionResult result,
            CancellationToken cancellationToken = default
        ) => Fault is { } fault ? throw fault : base.TransactionCommittingAsync(transaction, eventData, result, cancellationToken);
    }
}

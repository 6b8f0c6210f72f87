using System.Data.Common;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Diagnostics;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Time.Testing;
using ShopFloor.Data;
using ShopFloor.Data.Safety;
using ShopFloor.Documents.Imaging;
using ShopFloor.Web.Background.Demo;
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
    private static readonly DateTimeOffset Morning = new(2026, 3, 4, 9, 0, 0, TimeSpan.Zero);

    // One for all: what the demo sealed can be opened in each copy of it.
    private static readonly EphemeralDataProtectionProvider Seals = new();

    // Both cost a test much and come out the same each time: each is done once.
    private static readonly Lazy<Task<KeptFolder>> Migrated = new(() => KeepAsync(MigrateAsync));
    private static readonly Lazy<Task<KeptFolder>> Demo = new(() => KeepAsync(FillAsync));
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
        list.AddSingleton<IDataProtectionProvider>(Seals);
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
    public static async Task<TestShop> EmptyAsync() => New(await EmptyFolderAsync());

    /// <summary>The demo workshop, as its own use case fills it at that morning.</summary>
    public static async Task<TestShop> DemoAsync() => New(await Demo.Value);

    /// <summary>The files of an empty, migrated shop.</summary>
    internal static Task<KeptFolder> EmptyFolderAsync() => Migrated.Value;

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
        KeptFolder.Delete(folder);
    }

    private static TestShop New(KeptFolder? like = null)
    {
        var made = Directory.CreateTempSubdirectory("shopfloor-test-").FullName;
        like?.PutInto(made);
        return new TestShop(made, new FakeTimeProvider(Morning));
    }

    private static async Task<KeptFolder> KeepAsync(Func<Task<TestShop>> make)
    {
        await using var shop = await make();
        await shop.services.DisposeAsync();
        return KeptFolder.Of(shop.folder);
    }

    private static async Task<TestShop> MigrateAsync()
    {
        var shop = New();
        await using var context = await shop.ContextAsync();
        await GuardedStart.RunAsync(context, shop.folder, shop.Clock.GetUtcNow(), CancellationToken.None);
        return shop;
    }

    private static async Task<TestShop> FillAsync()
    {
        var shop = await EmptyAsync();
        Assert.True(await shop.Get<DemoWorkshop>().RunAsync());
        return shop;
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

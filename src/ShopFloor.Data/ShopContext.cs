using Microsoft.AspNetCore.Identity.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data.Mapping;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Calls;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Domain.Stock;

namespace ShopFloor.Data;

/// <summary>The workshop's database. One context for one command or one read; never kept in a component.</summary>
public sealed class ShopContext(DbContextOptions<ShopContext> options) : IdentityDbContext<Worker, WorkerRole, Guid>(options)
{
    public DbSet<Customer> Customers => Set<Customer>();
    public DbSet<Order> Orders => Set<Order>();
    public DbSet<KeptPicture> Pictures => Set<KeptPicture>();
    public DbSet<Draft> Drafts => Set<Draft>();
    public DbSet<Piece> Pieces => Set<Piece>();
    public DbSet<WorkItem> WorkItems => Set<WorkItem>();
    public DbSet<Batch> Batches => Set<Batch>();
    public DbSet<Recipe> Recipes => Set<Recipe>();
    public DbSet<Station> Stations => Set<Station>();
    public DbSet<Person> People => Set<Person>();
    public DbSet<Coating> Coatings => Set<Coating>();
    public DbSet<Can> Cans => Set<Can>();
    public DbSet<StockItem> StockItems => Set<StockItem>();
    public DbSet<StockMove> StockMoves => Set<StockMove>();
    public DbSet<SafetySheet> SafetySheets => Set<SafetySheet>();
    public DbSet<JournalEntry> Journal => Set<JournalEntry>();
    public DbSet<CommandRecord> Commands => Set<CommandRecord>();
    public DbSet<DatedSetting> Settings => Set<DatedSetting>();
    public DbSet<AuditEntry> Audit => Set<AuditEntry>();
    public DbSet<OutboxMessage> Outbox => Set<OutboxMessage>();
    public DbSet<SeriesCounter> Series => Set<SeriesCounter>();
    public DbSet<PlanVersion> Plans => Set<PlanVersion>();
    public DbSet<PlanPin> Pins => Set<PlanPin>();
    public DbSet<MaterialTest> MaterialTests => Set<MaterialTest>();
    public DbSet<Call> Calls => Set<Call>();
    public DbSet<IssuedDocument> Documents => Set<IssuedDocument>();
    public DbSet<PaymentRecord> Payments => Set<PaymentRecord>();

    public DbSet<Webhook> Webhooks => Set<Webhook>();
    public DbSet<AccessKey> AccessKeys => Set<AccessKey>();
    public DbSet<Complaint> Complaints => Set<Complaint>();
    public DbSet<Erasure> Erasures => Set<Erasure>();
    public DbSet<SecurityEvent> SecurityEvents => Set<SecurityEvent>();

    protected override void OnModelCreating(ModelBuilder builder)
    {
        base.OnModelCreating(builder);
        builder.ApplyConfigurationsFromAssembly(typeof(ShopContext).Assembly);
    }

    protected override void ConfigureConventions(ModelConfigurationBuilder conventions)
    {
        base.ConfigureConventions(conventions);
        conventions.Properties<DateTimeOffset>().HaveConversion<UtcTicks>();
        conventions.Properties<Length>().HaveConversion<WholeMicrometres>();
        conventions.Properties<Enum>().HaveConversion<string>().HaveMaxLength(40);
        conventions.Properties<CustomerId>().HaveConversion<IdConverter<CustomerId>>();
        conventions.Properties<OrderId>().HaveConversion<IdConverter<OrderId>>();
        conventions.Properties<OrderLineId>().HaveConversion<IdConverter<OrderLineId>>();
        conventions.Properties<PieceId>().HaveConversion<IdConverter<PieceId>>();
        conventions.Properties<BatchId>().HaveConversion<IdConverter<BatchId>>();
        conventions.Properties<RecipeId>().HaveConversion<IdConverter<RecipeId>>();
        conventions.Properties<StationId>().HaveConversion<IdConverter<StationId>>();
        conventions.Properties<PersonId>().HaveConversion<IdConverter<PersonId>>();
        conventions.Properties<CoatingId>().HaveConversion<IdConverter<CoatingId>>();
        conventions.Properties<CanId>().HaveConversion<IdConverter<CanId>>();
        conventions.Properties<PictureId>().HaveConversion<IdConverter<PictureId>>();
        conventions.Properties<EntryId>().HaveConversion<IdConverter<EntryId>>();
    }
}

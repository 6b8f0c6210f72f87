using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Domain.Stock;

namespace ShopFloor.Data.Mapping;

internal sealed class PieceMapping : IEntityTypeConfiguration<Piece>
{
    public void Configure(EntityTypeBuilder<Piece> e)
    {
        e.Property(p => p.Version).IsConcurrencyToken();
        e.HasIndex(p => p.Code).IsUnique();
        e.HasIndex(p => p.Tray);
        e.HasIndex(p => new { p.State, p.Order });
        e.HasIndex(p => new { p.State, p.ChangedAt });
        e.HasIndex(p => new { p.Order, p.State });
        e.HasOne<Order>().WithMany().HasForeignKey(p => p.Order).OnDelete(DeleteBehavior.Restrict);
        e.Ignore(p => p.Current);
        e.Ignore(p => p.NextAttended);
        e.HasMany(p => p.Items).WithOne().HasForeignKey(i => i.Piece);
        e.Navigation(p => p.Items).UsePropertyAccessMode(PropertyAccessMode.Field).AutoInclude();
    }
}

internal sealed class WorkItemMapping : IEntityTypeConfiguration<WorkItem>
{
    public void Configure(EntityTypeBuilder<WorkItem> e)
    {
        e.HasKey(i => new { i.Piece, i.Number });
        e.Property(i => i.Settings).AsJson();
        e.Ignore(i => i.IsClosed);
        e.HasIndex(i => i.State);
        e.HasIndex(i => i.FinishedAt);
        e.HasIndex(i => i.StartedAt);
        e.HasIndex(i => i.Batch);
        e.HasIndex(i => i.Can);
        e.HasIndex(i => new { i.Kind, i.FinishedAt });
    }
}

internal sealed class BatchMapping : IEntityTypeConfiguration<Batch>
{
    public void Configure(EntityTypeBuilder<Batch> e)
    {
        e.Property(b => b.Version).IsConcurrencyToken();
        e.Property(b => b.Settings).AsJson();
        e.Property(b => b.Places).AsJson();
        e.HasIndex(b => b.Code).IsUnique();
        e.HasIndex(b => b.State);
    }
}

internal sealed class RecipeMapping : IEntityTypeConfiguration<Recipe>
{
    public void Configure(EntityTypeBuilder<Recipe> e)
    {
        e.HasIndex(r => new { r.Name, r.Version }).IsUnique();
        e.Property(r => r.Steps).AsJson();
    }
}

internal sealed class StationMapping : IEntityTypeConfiguration<Station>
{
    public void Configure(EntityTypeBuilder<Station> e)
    {
        e.Property(s => s.Version).IsConcurrencyToken();
        e.HasIndex(s => s.Code).IsUnique();
        e.Property(s => s.Settings).AsJson();
    }
}

internal sealed class PersonMapping : IEntityTypeConfiguration<Person>
{
    public void Configure(EntityTypeBuilder<Person> e)
    {
        e.Property(p => p.Version).IsConcurrencyToken();
        e.HasIndex(p => p.Code).IsUnique();
        e.Property(p => p.Can).AsJson();
        e.Property(p => p.Shifts).AsJson();
    }
}

internal sealed class CoatingMapping : IEntityTypeConfiguration<Coating>
{
    public void Configure(EntityTypeBuilder<Coating> e)
    {
        e.Property(c => c.Version).IsConcurrencyToken();
        e.HasIndex(c => c.Code).IsUnique();
        e.Property(c => c.Settings).AsJson();
    }
}

internal sealed class CanMapping : IEntityTypeConfiguration<Can>
{
    public void Configure(EntityTypeBuilder<Can> e)
    {
        e.Property(c => c.Version).IsConcurrencyToken();
        e.HasIndex(c => c.Code).IsUnique();
        e.HasOne<Coating>().WithMany().HasForeignKey(c => c.Coating).OnDelete(DeleteBehavior.Restrict);
    }
}

internal sealed class StockItemMapping : IEntityTypeConfiguration<StockItem>
{
    public void Configure(EntityTypeBuilder<StockItem> e)
    {
        e.HasKey(s => s.Code);
        e.Property(s => s.Version).IsConcurrencyToken();
        e.Property(s => s.Prices).AsJson().HasDefaultValueSql("'[]'");
        e.Ignore(s => s.Facts);
    }
}

internal sealed class StockMoveMapping : IEntityTypeConfiguration<StockMove>
{
    public void Configure(EntityTypeBuilder<StockMove> e)
    {
        e.HasIndex(m => m.Can);
        e.HasIndex(m => m.At);
        e.HasIndex(m => m.Item);
        e.HasIndex(m => m.Command);
    }
}

internal sealed class SafetySheetMapping : IEntityTypeConfiguration<SafetySheet>
{
    public void Configure(EntityTypeBuilder<SafetySheet> e)
    {
        e.Property(s => s.Id).ValueGeneratedNever();
        e.HasIndex(s => new { s.Coating, s.Lot }).IsUnique();
        e.HasOne<Coating>().WithMany().HasForeignKey(s => s.Coating).OnDelete(DeleteBehavior.Restrict);
    }
}

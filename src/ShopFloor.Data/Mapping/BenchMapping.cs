using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Domain.Calls;
using ShopFloor.Domain.Materials;

namespace ShopFloor.Data.Mapping;

internal sealed class CallMapping : IEntityTypeConfiguration<Call>
{
    public void Configure(EntityTypeBuilder<Call> e)
    {
        e.Property(c => c.Id).ValueGeneratedNever();
        e.Property(c => c.Version).IsConcurrencyToken();
        e.HasIndex(c => c.ClearedAt);
        e.HasIndex(c => c.RaisedAt);
    }
}

internal sealed class MaterialTestMapping : IEntityTypeConfiguration<MaterialTest>
{
    public void Configure(EntityTypeBuilder<MaterialTest> e)
    {
        e.ToTable("MaterialTests");
        e.Property(t => t.Id).ValueGeneratedNever();
        e.Ignore(t => t.Sentence);
        e.HasIndex(t => t.Material);
    }
}

using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Data.Records;
using ShopFloor.Domain.Orders;

namespace ShopFloor.Data.Mapping;

internal sealed class CustomerMapping : IEntityTypeConfiguration<Customer>
{
    public void Configure(EntityTypeBuilder<Customer> e)
    {
        e.Property(c => c.Version).IsConcurrencyToken();
        e.ComplexProperty(
            c => c.Contact,
            c =>
            {
                c.Property(x => x.Name).HasColumnName("Name").UseCollation("NOCASE");
                c.Property(x => x.Email).HasColumnName("Email").UseCollation("NOCASE");
                c.Property(x => x.Phone).HasColumnName("Phone");
            }
        );
        e.Property(c => c.Address).AsJson();
        e.HasIndex(c => c.ExternalId).IsUnique().HasFilter("\"ExternalId\" <> ''");
    }
}

internal sealed class OrderMapping : IEntityTypeConfiguration<Order>
{
    public void Configure(EntityTypeBuilder<Order> e)
    {
        e.Property(o => o.Version).IsConcurrencyToken();
        e.HasIndex(o => o.Number).IsUnique();
        e.HasIndex(o => o.PromisedAt);
        e.HasIndex(o => o.BookedAt);
        e.Property<DateTimeOffset>(OrderChanged.At);
        e.HasIndex(OrderChanged.At);
        e.HasIndex(o => o.StatusLinkHash);
        e.HasIndex(o => o.Customer);
        e.HasOne<Customer>().WithMany().HasForeignKey(o => o.Customer).OnDelete(DeleteBehavior.Restrict);
        e.ComplexProperty(
            c => c.Contact,
            c =>
            {
                c.Property(x => x.Name).HasColumnName("ContactName").UseCollation("NOCASE");
                c.Property(x => x.Email).HasColumnName("ContactEmail");
                c.Property(x => x.Phone).HasColumnName("ContactPhone");
            }
        );
        e.HasIndex(o => o.ExternalId).IsUnique().HasFilter("\"ExternalId\" <> ''");
        e.Property(o => o.Charges).AsJson().HasDefaultValueSql("'[]'");
        e.Property(o => o.Discounts).AsJson().HasDefaultValueSql("'[]'");
        e.Property(o => o.Questions).AsJson().HasDefaultValueSql("'[]'");
        e.Property(o => o.Agreements).AsJson();
        e.Ignore(o => o.Net);
        e.Ignore(o => o.AllLines);
        e.Ignore(o => o.Language);
        e.Ignore(o => o.Gross);
        e.Ignore(o => o.Deposit);
        e.OwnsMany(
            o => o.Lines,
            l =>
            {
                l.ToTable("OrderLines");
                l.HasKey(x => x.Id);
                l.Property(x => x.Id).ValueGeneratedNever();
                l.WithOwner().HasForeignKey("OrderId");
                l.Property(x => x.Piece).AsJson();
                l.Property(x => x.Placement).AsJson();
                l.Property(x => x.Texts).AsJson();
                l.Property(x => x.Price).AsJson();
            }
        );
        e.Navigation(o => o.Lines).UsePropertyAccessMode(PropertyAccessMode.Field);
    }
}

internal sealed class PictureMapping : IEntityTypeConfiguration<KeptPicture>
{
    public void Configure(EntityTypeBuilder<KeptPicture> e) => e.ToTable("Pictures");
}

internal sealed class DraftMapping : IEntityTypeConfiguration<Draft>
{
    public void Configure(EntityTypeBuilder<Draft> e)
    {
        e.Property(d => d.Version).IsConcurrencyToken();
        e.Property(d => d.Id).ValueGeneratedNever();
        e.HasIndex(d => d.Owner);
        e.HasIndex(d => d.UploadTokenHash);
    }
}

internal sealed class ComplaintMapping : IEntityTypeConfiguration<Complaint>
{
    public void Configure(EntityTypeBuilder<Complaint> e)
    {
        e.Property(c => c.Id).ValueGeneratedNever();
        e.Property(c => c.Version).IsConcurrencyToken();
        e.Property(c => c.Pieces).AsJson();
        e.HasIndex(c => c.Order);
        e.HasIndex(c => c.State);
    }
}

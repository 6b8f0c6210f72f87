using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Data.Records;

namespace ShopFloor.Data.Mapping;

internal sealed class JournalMapping : IEntityTypeConfiguration<JournalEntry>
{
    public void Configure(EntityTypeBuilder<JournalEntry> e)
    {
        e.HasKey(j => j.Sequence);
        e.Property(j => j.Sequence).ValueGeneratedOnAdd();
        e.HasIndex(j => j.Id).IsUnique();
        e.HasIndex(j => new { j.Piece, j.Sequence });
        e.HasIndex(j => j.Command);
        e.HasIndex(j => j.At);
    }
}

internal sealed class CommandMapping : IEntityTypeConfiguration<CommandRecord>
{
    public void Configure(EntityTypeBuilder<CommandRecord> e) => e.Property(c => c.Id).ValueGeneratedNever();
}

internal sealed class SettingMapping : IEntityTypeConfiguration<DatedSetting>
{
    public void Configure(EntityTypeBuilder<DatedSetting> e)
    {
        e.Property(s => s.Id).ValueGeneratedNever();
        e.HasIndex(s => new { s.Key, s.From });
    }
}

internal sealed class AuditMapping : IEntityTypeConfiguration<AuditEntry>
{
    public void Configure(EntityTypeBuilder<AuditEntry> e)
    {
        e.Property(a => a.Id).ValueGeneratedNever();
        e.HasIndex(a => a.At);
    }
}

internal sealed class OutboxMapping : IEntityTypeConfiguration<OutboxMessage>
{
    public void Configure(EntityTypeBuilder<OutboxMessage> e)
    {
        e.Property(m => m.Id).ValueGeneratedNever();
        e.HasIndex(m => new { m.SentAt, m.NextTryAt });
        e.HasIndex(m => m.Key).IsUnique().HasFilter("\"Key\" <> ''");
        e.HasIndex(m => m.Order);
    }
}

internal sealed class WebhookMapping : IEntityTypeConfiguration<Webhook>
{
    public void Configure(EntityTypeBuilder<Webhook> e)
    {
        e.Property(w => w.Id).ValueGeneratedNever();
        e.Property(w => w.Events).AsJson();
        e.Property(w => w.Version).IsConcurrencyToken();
    }
}

internal sealed class AccessKeyMapping : IEntityTypeConfiguration<AccessKey>
{
    public void Configure(EntityTypeBuilder<AccessKey> e)
    {
        e.Property(k => k.Id).ValueGeneratedNever();
        e.Property(k => k.Scopes).AsJson();
        e.HasIndex(k => k.Hash).IsUnique();
    }
}

internal sealed class SecurityEventMapping : IEntityTypeConfiguration<SecurityEvent>
{
    public void Configure(EntityTypeBuilder<SecurityEvent> e)
    {
        e.ToTable("SecurityEvents");
        e.Property(x => x.Id).ValueGeneratedNever();
        e.HasIndex(x => x.At);
    }
}

internal sealed class ErasureMapping : IEntityTypeConfiguration<Erasure>
{
    public void Configure(EntityTypeBuilder<Erasure> e) => e.HasKey(x => x.Customer);
}

internal sealed class SeriesMapping : IEntityTypeConfiguration<SeriesCounter>
{
    public void Configure(EntityTypeBuilder<SeriesCounter> e)
    {
        e.HasKey(s => s.Series);
        e.Property(s => s.Last).IsConcurrencyToken();
    }
}

internal sealed class PlanMapping : IEntityTypeConfiguration<PlanVersion>
{
    public void Configure(EntityTypeBuilder<PlanVersion> e)
    {
        e.HasKey(p => p.Number);
        e.Property(p => p.Number).ValueGeneratedNever();
    }
}

internal sealed class PinMapping : IEntityTypeConfiguration<PlanPin>
{
    public void Configure(EntityTypeBuilder<PlanPin> e)
    {
        e.Property(p => p.Id).ValueGeneratedNever();
        e.HasIndex(p => p.Piece);
    }
}

internal sealed class DocumentMapping : IEntityTypeConfiguration<IssuedDocument>
{
    public void Configure(EntityTypeBuilder<IssuedDocument> e)
    {
        e.Property(d => d.Id).ValueGeneratedNever();
        e.HasIndex(d => d.Number).IsUnique();
        e.HasIndex(d => d.Order);
        e.HasIndex(d => d.Day);
    }
}

internal sealed class PaymentMapping : IEntityTypeConfiguration<PaymentRecord>
{
    public void Configure(EntityTypeBuilder<PaymentRecord> e)
    {
        e.Property(p => p.Id).ValueGeneratedNever();
        e.HasIndex(p => p.Document);
        e.HasIndex(p => p.Order);
    }
}

using System.Text.Json;
using Microsoft.EntityFrameworkCore.ChangeTracking;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Microsoft.EntityFrameworkCore.Storage.ValueConversion;
using ShopFloor.Domain;
using ShopFloor.Domain.Quantities;

namespace ShopFloor.Data.Mapping;

/// <summary>An instant as UTC ticks: SQLite can neither order nor compare offsets.</summary>
internal sealed class UtcTicks() : ValueConverter<DateTimeOffset, long>(v => v.UtcTicks, v => new DateTimeOffset(v, TimeSpan.Zero));

internal sealed class WholeMicrometres() : ValueConverter<Length, long>(v => v.Micrometres, v => Length.FromMicrometres(v));

internal sealed class IdConverter<T>() : ValueConverter<T, Guid>(v => v.Value, v => Of(v))
    where T : struct, IId<T>
{
    // An expression tree cannot call a static abstract member itself.
    private static T Of(Guid value) => T.Of(value);
}

/// <summary>Values that are read and written whole and never searched are kept as one JSON column.</summary>
internal static class JsonColumn
{
    internal static PropertyBuilder<T> AsJson<T>(this PropertyBuilder<T> property) =>
        property.HasConversion(
            v => JsonSerializer.Serialize(v, JsonForms.Default),
            v => JsonSerializer.Deserialize<T>(v, JsonForms.Default)!,
            new ValueComparer<T>(
                (a, b) => JsonSerializer.Serialize(a, JsonForms.Default) == JsonSerializer.Serialize(b, JsonForms.Default),
                v => JsonSerializer.Serialize(v, JsonForms.Default).GetHashCode(StringComparison.Ordinal),
                v => v
            )
        );
}

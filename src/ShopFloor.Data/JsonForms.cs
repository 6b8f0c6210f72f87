using System.Text.Json;
using System.Text.Json.Serialization;
using ShopFloor.Domain;
using ShopFloor.Domain.Quantities;

namespace ShopFloor.Data;

/// <summary>The one form in which values are kept as JSON: enums as words, ids as Guids, lengths as whole µm.</summary>
public static class JsonForms
{
    /// <summary>Options for all JSON that the database keeps.</summary>
    public static JsonSerializerOptions Default { get; } = Make();

    private static JsonSerializerOptions Make()
    {
        var options = new JsonSerializerOptions(JsonSerializerDefaults.Web)
        {
            DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        };
        options.Converters.Add(new JsonStringEnumConverter());
        options.Converters.Add(new LengthForm());
        options.Converters.Add(new IdFormFactory());
        options.MakeReadOnly(populateMissingResolver: true);
        return options;
    }

    private sealed class LengthForm : JsonConverter<Length>
    {
        public override Length Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            Length.FromMicrometres(reader.GetInt64());

        public override void Write(Utf8JsonWriter writer, Length value, JsonSerializerOptions options) =>
            writer.WriteNumberValue(value.Micrometres);
    }

    private sealed class IdFormFactory : JsonConverterFactory
    {
        public override bool CanConvert(Type typeToConvert) =>
            typeToConvert.IsValueType
            && typeToConvert.GetInterfaces().Any(i => i.IsGenericType && i.GetGenericTypeDefinition() == typeof(IId<>));

        public override JsonConverter CreateConverter(Type typeToConvert, JsonSerializerOptions options) =>
            (JsonConverter)Activator.CreateInstance(typeof(IdForm<>).MakeGenericType(typeToConvert))!;
    }

    private sealed class IdForm<T> : JsonConverter<T>
        where T : struct, IId<T>
    {
        public override T Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) => T.Of(reader.GetGuid());

        public override void Write(Utf8JsonWriter writer, T value, JsonSerializerOptions options) => writer.WriteStringValue(value.Value);
    }
}

using System.Text;
using System.Text.Json;
using System.Text.Unicode;

namespace ShopFloor.Planning.Exchange;

/// <summary>One value of a JSON document that still knows where it stood; <paramref name="Offset"/> counts bytes.</summary>
internal sealed record JsonValue(JsonTokenType Type, int Offset)
{
    public string Text { get; init; } = "";

    public List<JsonValue> Items { get; } = [];

    public List<JsonField> Fields { get; } = [];
}

internal readonly record struct JsonField(string Name, int Offset, JsonValue Value);

/// <summary>Parses a document into values with places. Depth and syntax are checked here, meaning elsewhere.</summary>
internal static class JsonTree
{
    private const int DeepestNesting = 16;

    public static JsonValue? Parse(ReadOnlySpan<byte> bytes, ProblemList problems)
    {
        if (!Utf8.IsValid(bytes))
        {
            problems.Add(InvalidAt(bytes), "", "not UTF-8");
            return null;
        }
        var reader = new Utf8JsonReader(bytes, new JsonReaderOptions { MaxDepth = DeepestNesting });
        try
        {
            reader.Read();
            var root = Value(ref reader);
            reader.Read();
            return root;
        }
        catch (JsonException broken)
        {
            var (line, column) = ((int)(broken.LineNumber ?? 0) + 1, (int)(broken.BytePositionInLine ?? 0) + 1);
            problems.AddAt(line, column, "", "not JSON: " + FirstSentence(broken.Message));
            return null;
        }
        catch (InvalidOperationException)
        {
            problems.Add((int)reader.TokenStartIndex, "", "a text holds half of a character pair");
            return null;
        }
    }

    private static JsonValue Value(ref Utf8JsonReader reader)
    {
        var value = new JsonValue(reader.TokenType, (int)reader.TokenStartIndex) { Text = Scalar(ref reader) };
        if (reader.TokenType == JsonTokenType.StartArray)
            while (reader.Read() && reader.TokenType != JsonTokenType.EndArray)
                value.Items.Add(Value(ref reader));
        else if (reader.TokenType == JsonTokenType.StartObject)
            while (reader.Read() && reader.TokenType != JsonTokenType.EndObject)
            {
                var (name, offset) = (reader.GetString()!, (int)reader.TokenStartIndex);
                reader.Read();
                value.Fields.Add(new JsonField(name, offset, Value(ref reader)));
            }
        return value;
    }

    private static string Scalar(ref Utf8JsonReader reader) =>
        reader.TokenType switch
        {
            JsonTokenType.String => reader.GetString()!,
            JsonTokenType.Number => Encoding.ASCII.GetString(reader.ValueSpan),
            _ => "",
        };

    private static string FirstSentence(string message)
    {
        var end = message.IndexOf(". ", StringComparison.Ordinal);
        return end < 0 ? message : message[..end];
    }

    private static int InvalidAt(ReadOnlySpan<byte> bytes)
    {
        var at = 0;
        while (at < bytes.Length && Rune.DecodeFromUtf8(bytes[at..], out _, out var length) == System.Buffers.OperationStatus.Done)
            at += length;
        return at;
    }
}

/// <summary>Collects problems with their places.</summary>
internal sealed class ProblemList(string file)
{
    private const int Most = 50;
    private readonly List<ReadProblem> found = [];
    private int[] lineStarts = [0];

    public IReadOnlyList<ReadProblem> Found => [.. found.OrderBy(p => p.Line).ThenBy(p => p.Column)];

    public bool IsEmpty => found.Count == 0;

    public void Learn(ReadOnlySpan<byte> bytes)
    {
        var starts = new List<int> { 0 };
        for (var i = 0; i < bytes.Length; i++)
            if (bytes[i] == (byte)'\n')
                starts.Add(i + 1);
        lineStarts = [.. starts];
    }

    public void Add(int offset, string path, string reason)
    {
        var line = Array.BinarySearch(lineStarts, offset);
        line = line < 0 ? ~line - 1 : line;
        AddAt(line + 1, offset - lineStarts[line] + 1, path, reason);
    }

    public void AddAt(int line, int column, string path, string reason)
    {
        if (found.Count < Most)
            found.Add(new ReadProblem(file, line, column, path, reason));
    }
}

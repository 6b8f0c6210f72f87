using System.Text.Json;
using System.Text.RegularExpressions;

namespace ShopFloor.Planning.Exchange;

/// <summary>Reads day files, strictly: what the format does not say is an error with its place.</summary>
public static partial class DayReader
{
    /// <summary>The format that is read, and written where nothing of <see cref="FormatWithRoundPieces"/> is said.</summary>
    public const string Format = "shopfloor-day/1";

    /// <summary>The same with round pieces and wrap presses.</summary>
    public const string FormatWithRoundPieces = "shopfloor-day/1.1";

    /// <summary>Reads a day file.</summary>
    /// <param name="bytes">The file's bytes, UTF-8.</param>
    /// <param name="name">The file's name, for problems.</param>
    public static ReadResult<Day> Read(ReadOnlySpan<byte> bytes, string name)
    {
        var problems = new ProblemList(name);
        problems.Learn(bytes);
        var root = JsonTree.Parse(bytes, problems);
        if (root is null || !Header.IsRight(root, [Format, FormatWithRoundPieces], problems))
            return new ReadResult<Day>(null, problems.Found);
        var fields = new Fields(root, "", problems);
        var day = Read(fields);
        if (problems.IsEmpty)
        {
            DayNames.Check(day, root, problems);
            DayPoints.Check(day, root, problems);
        }
        return new ReadResult<Day>(day, problems.Found);
    }

    private static Day Read(Fields f)
    {
        f.Text("format");
        var horizon = f.Whole("horizon_s", 1);
        var day = new Day(
            Zero(f),
            horizon,
            f.Scaled("room_c", 1, -1000, 1000),
            Unique.ById(f, "people", ReadPerson, p => p.Id),
            Unique.ById(f, "stations", StationReader.Read, s => s.Id),
            Unique.ById(f, "coatings", ReadCoating, c => c.Id),
            Unique.ById(f, "pieces", PieceReader.Read, p => p.Id),
            ReadRunning(f),
            f.IsNull("published") ? null : ReadPublished(Child(f, "published")),
            ReadWeights(Child(f, "weights"))
        );
        f.NothingElse();
        return day;
    }

    internal static Fields Child(Fields f, string name) =>
        new(f.Raw(name) ?? new JsonValue(JsonTokenType.None, f.Offset), f.Under(name), f.Problems);

    private static DateTimeOffset Zero(Fields f)
    {
        var text = f.Text("zero");
        // What may be left out, or written otherwise, is settled here; whether there is such a day and time, by the parser.
        if (Instant().IsMatch(text) && DateTimeOffset.TryParse(text, CultureInfo.InvariantCulture, DateTimeStyles.None, out var zero))
            return zero;
        f.Problem("zero", "must be an instant with offset, e.g. 2026-03-02T08:00:00+01:00");
        return default;
    }

    [GeneratedRegex(@"^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(:\d{2}(\.\d{1,7})?)?(Z|[+-]\d{2}:\d{2})\z", RegexOptions.ECMAScript, 30_000)]
    private static partial Regex Instant();

    private static Person ReadPerson(Fields f)
    {
        var can = f.List("can", (raw, at) => Word(raw, at, StationReader.Kinds, f.Problems));
        var person = new Person(f.Id("id"), [.. can.Select(w => StationReader.KindOf(w)!.Value).Distinct().Order()], Shifts(f));
        f.NothingElse();
        return person;
    }

    internal static string? Word(JsonValue raw, string at, IReadOnlyList<string> words, ProblemList problems)
    {
        if (raw.Type == JsonTokenType.String && words.Contains(raw.Text, StringComparer.Ordinal))
            return raw.Text;
        problems.Add(raw.Offset, at, "must be one of: " + string.Join(", ", words));
        return null;
    }

    private static List<Shift> Shifts(Fields f) => Calendar.Of(f, "shifts", ReadShift, s => (s.FromS, s.ToS), "shifts");

    private static Shift ReadShift(Fields f)
    {
        var shift = new Shift(
            f.Whole("from_s", -Limits.Seconds),
            f.Whole("normal_to_s", -Limits.Seconds),
            f.Whole("to_s", -Limits.Seconds)
        );
        if (shift.NormalToS < shift.FromS || shift.NormalToS > shift.ToS)
            f.Problem("normal_to_s", "must lie between from_s and to_s");
        if (shift.ToS <= shift.FromS)
            f.Problem("to_s", "must be after from_s");
        f.NothingElse();
        return shift;
    }

    private static Coating ReadCoating(Fields f)
    {
        var coating = new Coating(
            f.Id("id"),
            f.Whole("shake_s", 1),
            f.Whole("shake_again_after_s"),
            Unique.ById(f, "cans", ReadCan, c => c.Id)
        );
        f.NothingElse();
        return coating;
    }

    private static Can ReadCan(Fields f)
    {
        var can = new Can(
            f.Id("id"),
            f.Scaled("left_ml", 3, 0, Limits.Thousandths),
            f.IsNull("use_by_s") ? null : f.Whole("use_by_s", -Limits.Seconds)
        );
        f.NothingElse();
        return can;
    }

    private static Running ReadRunning(Fields parent)
    {
        var f = Child(parent, "running");
        var running = new Running(f.Objects("tasks", TaskReader.ReadRunning), Unique.ById(f, "batches", BatchReader.Read, b => b.Id));
        f.NothingElse();
        return running;
    }

    private static Published ReadPublished(Fields f)
    {
        var seen = new HashSet<(string, int)>();
        var published = new Published(
            f.Whole("version", 0, int.MaxValue),
            f.Whole("near_s", -Limits.Seconds),
            f.Whole("moved_s"),
            f.Objects("steps", g => ReadPublishedStep(g, seen))
        );
        f.NothingElse();
        return published;
    }

    private static PublishedStep ReadPublishedStep(Fields f, HashSet<(string, int)> seen)
    {
        var step = new PublishedStep(f.Id("piece"), f.Whole("step", 1, 1000), f.Id("station"), f.Whole("start_s", -Limits.Seconds));
        if (!seen.Add((step.Piece, step.Step)))
            f.Problem("step", $"step {step.Step} of {step.Piece} is repeated");
        f.NothingElse();
        return step;
    }

    private static Weights ReadWeights(Fields f)
    {
        var w = Objective.Names.Select(name => f.Long(name, 0, Limits.Weight)).ToArray();
        f.NothingElse();
        return new Weights(w[0], w[1], w[2], w[3], w[4], w[5], w[6], w[7], w[8], w[9]);
    }
}

/// <summary>A value in a place where the reader needs a reference.</summary>
internal sealed record Boxed<T>(T Value);

/// <summary>What both files begin with.</summary>
internal static class Header
{
    public static bool IsRight(JsonValue root, IReadOnlyList<string> formats, ProblemList problems)
    {
        var given = root.Fields.Find(f => f.Name == "format");
        if (given.Value is { Type: JsonTokenType.String } text && formats.Contains(text.Text, StringComparer.Ordinal))
            return true;
        problems.Add(given.Value?.Offset ?? root.Offset, "format", "must be " + string.Join(" or ", formats.Select(f => $"\"{f}\"")));
        return false;
    }
}

internal static class Unique
{
    /// <summary>A list of things with ids; one that stands there already is named by its own place.</summary>
    public static List<T> ById<T>(Fields f, string name, Func<Fields, T?> read, Func<T, string> id, string field = "id")
        where T : class
    {
        var seen = new HashSet<string>(StringComparer.Ordinal);
        return f.Objects(
            name,
            item =>
            {
                var made = read(item);
                if (made is not null && id(made).Length > 0 && !seen.Add(id(made)))
                    item.Problem(field, $"id {id(made)} is repeated");
                return made;
            }
        );
    }
}

internal static class Calendar
{
    /// <summary>Times in their order with time between them; one that does not follow the one before it is named by its own place.</summary>
    public static List<T> Of<T>(Fields f, string name, Func<Fields, T> read, Func<T, (int FromS, int ToS)> span, string what)
        where T : struct
    {
        var before = int.MinValue;
        return f.Objects(
                name,
                item =>
                {
                    var made = read(item);
                    if (span(made).FromS <= before)
                        item.Problem("from_s", $"{what} must be sorted, disjoint and must not touch (merge touching ones)");
                    before = span(made).ToS;
                    return new Boxed<T>(made);
                }
            )
            .ConvertAll(b => b.Value);
    }
}

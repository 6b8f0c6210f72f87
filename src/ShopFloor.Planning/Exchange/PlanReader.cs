using System.Text.Json;

namespace ShopFloor.Planning.Exchange;

/// <summary>Reads plan files. The form is read strictly; names and meaning are the checker's to judge.</summary>
public static class PlanReader
{
    /// <summary>The format that is read and written.</summary>
    public const string Format = "shopfloor-plan/1";

    private static readonly string[] Reasons =
    [
        "too large",
        "no station",
        "no window",
        "no coating",
        "no time",
        "pinned away",
        "waits for piece",
    ];
    private static readonly string[] Holders =
    [
        "previous step",
        "rest minimum",
        "person",
        "station",
        "set point",
        "member",
        "pin",
        "chosen",
    ];

    /// <summary>Reads a plan file.</summary>
    /// <param name="bytes">The file's bytes, UTF-8.</param>
    /// <param name="name">The file's name, for problems.</param>
    public static ReadResult<Plan> Read(ReadOnlySpan<byte> bytes, string name)
    {
        var problems = new ProblemList(name);
        problems.Learn(bytes);
        var root = JsonTree.Parse(bytes, problems);
        if (root is null || !Header.IsRight(root, [Format], problems))
            return new ReadResult<Plan>(null, problems.Found);
        return new ReadResult<Plan>(Read(new Fields(root, "", problems)), problems.Found);
    }

    private static Plan Read(Fields f)
    {
        f.Text("format");
        var plan = new Plan(
            Sha(f),
            f.Objects("tasks", TaskReader.Read),
            Unique.ById(f, "batches", BatchReader.Read, b => b.Id),
            Unique.ById(f, "left_out", ReadLeftOut, p => p.Piece, "piece"),
            f.Objects("unmet_pins", ReadUnmetPin),
            ReadObjective(DayReader.Child(f, "objective")),
            f.Objects("why", ReadWhy),
            ReadSearch(DayReader.Child(f, "search")),
            ReadTiming(DayReader.Child(f, "timing"))
        );
        f.NothingElse();
        return plan;
    }

    private static string Sha(Fields f)
    {
        var text = f.Text("day_sha256");
        if (text.Length != 64 || !text.All(c => char.IsAsciiDigit(c) || c is >= 'a' and <= 'f'))
            f.Problem("day_sha256", "must be 64 lower-case hexadecimal digits");
        return text;
    }

    private static string Word(Fields f, string name, string[] words) =>
        (f.Raw(name) is { } raw ? DayReader.Word(raw, f.Under(name), words, f.Problems) : null) ?? "";

    private static LeftOut ReadLeftOut(Fields f)
    {
        var left = new LeftOut(f.Id("piece"), Word(f, "reason", Reasons), f.Text("text"));
        f.NothingElse();
        return left;
    }

    private static UnmetPin ReadUnmetPin(Fields f)
    {
        var pin = new UnmetPin(f.Id("piece"), f.Whole("step", 1, 1000), f.Text("text"));
        f.NothingElse();
        return pin;
    }

    private static Objective ReadObjective(Fields f)
    {
        var (value, bound) = (f.Long("value", long.MinValue), f.Long("bound", long.MinValue));
        var parts = DayReader.Child(f, "parts");
        var read = Objective.Names.Select(name => ReadPart(name, DayReader.Child(parts, name))).ToList();
        parts.NothingElse();
        f.NothingElse();
        return new Objective(value, bound, read);
    }

    private static ObjectivePart ReadPart(string name, Fields f)
    {
        var part = new ObjectivePart(
            name,
            f.Long("amount", long.MinValue),
            f.Long("points", long.MinValue),
            f.Long("bound", long.MinValue)
        );
        f.NothingElse();
        return part;
    }

    private static Why ReadWhy(Fields f)
    {
        var why = new Why(
            f.OptionalId("piece"),
            f.Has("step") ? f.Whole("step", 1, 1000) : null,
            f.OptionalId("batch"),
            Word(f, "held_by", Holders),
            f.Has("name") ? f.Text("name") : null,
            f.Has("helps") ? f.Text("helps") : null
        );
        f.NothingElse();
        return why;
    }

    private static SearchNote ReadSearch(Fields f)
    {
        // "chains" came into the format after the first examples were written, which lack it.
        var note = new SearchNote(
            f.Text("planner"),
            (ulong)f.Long("seed"),
            f.Has("chains") ? f.Whole("chains", 1, 1000) : null,
            f.WholeOrNull("rounds", 0, int.MaxValue),
            f.Long("steps"),
            f.Flag("proved")
        );
        f.NothingElse();
        return note;
    }

    private static long ReadTiming(Fields f)
    {
        var milliseconds = f.Long("milliseconds");
        f.NothingElse();
        return milliseconds;
    }
}

using System.Text;
using System.Text.Json.Nodes;
using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Tests.Exchange;

/// <summary>Names that mean nothing, ids that stand twice, values that contradict each other: each with its place and its reason.</summary>
public sealed class DanglingTests
{
    private static JsonNode Day() => JsonNode.Parse(TwoPlates.DayBytes)!;

    private static readonly Dictionary<string, (string Path, string Reason, Action<JsonNode> Change)> Cases = new()
    {
        ["booth beside no oven"] = (
            "stations[1].shares_air_with[0]",
            "there is no oven kiln",
            d => d["stations"]![1]!["shares_air_with"] = new JsonArray("kiln")
        ),
        ["after no piece"] = ("pieces[0].after[0]", "there is no other piece P9", d => d["pieces"]![0]!["after"] = new JsonArray("P9")),
        ["after itself"] = ("pieces[0].after[0]", "there is no other piece P1", d => d["pieces"]![0]!["after"] = new JsonArray("P1")),
        ["no such coating"] = (
            "pieces[0].route[2].coating",
            "there is no coating matt",
            d => d["pieces"]![0]!["route"]![2]!["coating"] = "matt"
        ),
        ["pinned to no station"] = (
            "pieces[0].pins[0].station",
            "there is no station here",
            d => d["pieces"]![0]!["pins"] = Pin("station", "here")
        ),
        ["pinned to no piece"] = (
            "pieces[0].pins[0].with",
            "there is no other piece P9",
            d => d["pieces"]![0]!["pins"] = Pin("with", "P9")
        ),
        ["pinned twice over"] = (
            "pieces[0].pins[0].step",
            "exactly one",
            d =>
                d["pieces"]![0]!["pins"] = new JsonArray(
                    new JsonObject
                    {
                        ["step"] = 1,
                        ["at_s"] = 1,
                        ["station"] = "bench-1",
                    }
                )
        ),
        ["pin of no step"] = (
            "pieces[0].pins",
            "step 99 of a route of",
            d => d["pieces"]![0]!["pins"] = new JsonArray(new JsonObject { ["step"] = 99, ["at_s"] = 1 })
        ),
        ["step that runs before its turn"] = (
            "running.tasks[0].step",
            "step 10 of piece P1 cannot run: step 1 is still to be done",
            d =>
                d["running"]!["tasks"] = new JsonArray(
                    new JsonObject
                    {
                        ["kind"] = "pack",
                        ["station"] = "bench-1",
                        ["person"] = "ada",
                        ["start_s"] = -5,
                        ["end_s"] = 20,
                        ["piece"] = "P1",
                        ["step"] = 10,
                    }
                )
        ),
        ["person twice"] = ("people[1].id", "id ada is repeated", d => Twice(d["people"]!)),
        ["station twice"] = ("stations[5].id", "id bench-1 is repeated", d => Twice(d["stations"]!)),
        ["coating twice"] = ("coatings[1].id", "id clear is repeated", d => Twice(d["coatings"]!)),
        ["can twice"] = ("coatings[0].cans[1].id", "id can-7 is repeated", d => Twice(d["coatings"]![0]!["cans"]!)),
        ["piece twice"] = ("pieces[2].id", "id P1 is repeated", d => Twice(d["pieces"]!)),
        ["touching shifts"] = (
            "people[0].shifts[1].from_s",
            "must not touch",
            d => d["people"]![0]!["shifts"] = new JsonArray(Shift(0, 10), Shift(10, 20))
        ),
        ["station down in disorder"] = (
            "stations[0].down[1].from_s",
            "must be sorted",
            d => d["stations"]![0]!["down"] = new JsonArray(Span(20, 30), Span(0, 10))
        ),
        ["published twice"] = (
            "published.steps[1].step",
            "step 1 of P1 is repeated",
            d => d["published"] = Published(Done("P1", 1), Done("P1", 1))
        ),
        ["running load of no piece"] = (
            "running.batches[0].places[1].piece",
            "no piece P9",
            d => d["running"]!["batches"] = new JsonArray(Load(Place("P1", 5), Place("P9", 5)))
        ),
        ["running load of no step"] = (
            "running.batches[0].places[0].step",
            "P1 has no step 50",
            d => d["running"]!["batches"] = new JsonArray(Load(Place("P1", 50)))
        ),
        ["overtime before the shift"] = (
            "people[0].shifts[0].normal_to_s",
            "between from_s and to_s",
            d => d["people"]![0]!["shifts"]![0]!["normal_to_s"] = -1
        ),
        ["empty shift"] = (
            "people[0].shifts[0].to_s",
            "must be after from_s",
            d => d["people"]![0]!["shifts"] = new JsonArray(Shift(9, 9))
        ),
        ["rest first"] = ("pieces[0].route", "neither begin nor end with a rest", d => Route(d).Insert(0, Rest())),
        ["two rests"] = ("pieces[0].route", "two rests in a row", d => Route(d).Insert(4, Rest())),
        ["more done than there is"] = ("pieces[0].done", "only 10 steps", d => d["pieces"]![0]!["done"] = 11),
        ["done without an end"] = ("pieces[0].last_end_s", "given when one is", d => d["pieces"]![0]!["done"] = 1),
        ["window upside down"] = ("pieces[0].route[4].max_s", "not be below min_s", d => d["pieces"]![0]!["route"]![4]!["max_s"] = 1),
        ["another major version"] = ("format", "must be \"shopfloor-day/1\"", d => d["format"] = "shopfloor-day/2"),
        ["no offset"] = ("zero", "with offset", d => d["zero"] = "2026-03-02T08:00:00"),
        ["unknown kind of station"] = ("stations[0].kind", "must be one of", d => d["stations"]![0]!["kind"] = "kiln"),
        ["unknown kind of step"] = ("pieces[0].route[0].kind", "must be one of", d => d["pieces"]![0]!["route"]![0]!["kind"] = "glue"),
        ["id with a blank"] = ("pieces[0].id", "must be an id", d => d["pieces"]![0]!["id"] = "P 1"),
        ["running task in the future"] = (
            "running.tasks[0].start_s",
            "at or before second 0",
            d => d["running"]!["tasks"] = new JsonArray(Task(5, 9))
        ),
        ["running task of no batch"] = (
            "running.tasks[0].batch",
            "no running batch L9",
            d => d["running"]!["tasks"] = new JsonArray(Task(-5, 9, ("batch", "L9")))
        ),
        ["running load that is nowhere"] = (
            "running.batches[0].id",
            "oven load L1 has no task",
            d => d["running"]!["batches"] = new JsonArray(Load(Place("P1", 5)))
        ),
        ["running load at a bench"] = (
            "running.tasks[0].station",
            "load is not done at bench-1",
            d => Running(d, OfBatch("load", "bench-1", -1))
        ),
        ["running load at two ovens"] = (
            "running.batches[0].id",
            "at two stations",
            d => Running(d, OfBatch("load", "oven-1", -1), OfBatch("dwell", "bench-1", null))
        ),
        ["running load on no shelf"] = (
            "running.batches[0].places[0].shelf",
            "oven-1 has no shelf 9",
            d =>
            {
                Running(d, OfBatch("load", "oven-1", -1));
                d["running"]!["batches"]![0]!["places"]![0]!["shelf"] = 9;
            }
        ),
        ["running load below the first shelf"] = (
            "running.batches[0].places[0].shelf",
            "oven-1 has no shelf 0",
            d =>
            {
                Running(d, OfBatch("load", "oven-1", -1));
                d["running"]!["batches"]![0]!["places"]![0]!["shelf"] = 0;
            }
        ),
        ["running load with nothing in it"] = (
            "running.batches[0].places",
            "has nothing in it",
            d =>
            {
                Running(d, OfBatch("load", "oven-1", -1));
                d["running"]!["batches"] = new JsonArray(Load());
            }
        ),
        ["running load that is loaded twice"] = (
            "running.batches[0].id",
            "has 2 tasks load",
            d => Running(d, OfBatch("load", "oven-1", -1), OfBatch("load", "oven-1", -1))
        ),
        ["running shake of a load"] = (
            "running.tasks[0].batch",
            "shake does not belong to the oven load L1",
            d => Running(d, OfBatch("shake", "booth-1", -1))
        ),
        ["running dwell of no batch"] = (
            "running.tasks[0].batch",
            "dwell names its batch",
            d => Running(d, Without(OfBatch("dwell", "oven-1", null), "batch"))
        ),
        ["running rest of no piece"] = (
            "running.tasks[0].piece",
            "rest names its piece",
            d => Running(d, Without(OfBatch("rest", "rack-1", null), "batch"))
        ),
        ["running rest of no step"] = (
            "running.tasks[0].step",
            "P1 has no step",
            d => d["running"]!["tasks"] = new JsonArray(Without(Task(-5, 9, ("kind", "rest"), ("station", "rack-1")), "step"))
        ),
        ["running set point to nothing"] = (
            "running.tasks[0].to_c",
            "from what to what",
            d => Running(d, Without(OfBatch("set point", "oven-1", 60), "batch"))
        ),
        ["running task of nobody"] = (
            "running.tasks[0].person",
            "no person zoe",
            d => d["running"]!["tasks"] = new JsonArray(Task(-5, 9, ("person", "zoe")))
        ),
    };

    public static TheoryData<string> Names() => [.. Cases.Keys];

    [Theory]
    [MemberData(nameof(Names))]
    public void Read_SomethingContradicts_NamesPlaceAndReason(string name)
    {
        var (path, reason, change) = Cases[name];
        var day = Day();
        change(day);
        var read = DayReader.Read(Encoding.UTF8.GetBytes(day.ToJsonString()), "day.json");
        Assert.False(read.IsOk);
        Assert.Contains(read.Problems, p => p.Path == path && p.Reason.Contains(reason, StringComparison.Ordinal));
        Assert.StartsWith("day.json:1:", read.Problems[0].ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Read_RepeatedId_NamesItsOwnLine()
    {
        var day = Day();
        Twice(day["pieces"]!);
        var text = day.ToJsonString(new System.Text.Json.JsonSerializerOptions { WriteIndented = true });
        var line = 1 + text[..text.LastIndexOf("\"id\": \"P1\"", StringComparison.Ordinal)].Count(c => c == '\n');
        var problem = Assert.Single(DayReader.Read(Encoding.UTF8.GetBytes(text), "day.json").Problems);
        Assert.Equal(("pieces[2].id", line), (problem.Path, problem.Line));
    }

    [Fact]
    public void Read_NotJson_SaysLineAndColumn()
    {
        var read = DayReader.Read("{\n  \"format\": oops\n}"u8, "day.json");
        var problem = Assert.Single(read.Problems);
        Assert.Equal((2, 13), (problem.Line, problem.Column));
    }

    private static JsonArray Pin(string kind, string value) => [new JsonObject { ["step"] = 1, [kind] = value }];

    private static JsonObject Shift(int from, int to) =>
        new()
        {
            ["from_s"] = from,
            ["normal_to_s"] = to,
            ["to_s"] = to,
        };

    private static JsonObject Span(int from, int to) => new() { ["from_s"] = from, ["to_s"] = to };

    private static JsonObject Done(string piece, int step) =>
        new()
        {
            ["piece"] = piece,
            ["step"] = step,
            ["station"] = "bench-1",
            ["start_s"] = 5,
        };

    private static JsonObject Published(params JsonNode[] steps) =>
        new()
        {
            ["version"] = 1,
            ["near_s"] = 60,
            ["moved_s"] = 60,
            ["steps"] = new JsonArray(steps),
        };

    private static JsonObject Load(params JsonNode[] places) =>
        new()
        {
            ["id"] = "L1",
            ["kind"] = "oven load",
            ["temperature_c"] = 160,
            ["places"] = new JsonArray(places),
        };

    private static JsonObject Place(string piece, int step) =>
        new()
        {
            ["piece"] = piece,
            ["step"] = step,
            ["shelf"] = 1,
            ["x_mm"] = 10,
            ["y_mm"] = 10,
            ["turned"] = false,
        };

    private static void Running(JsonNode day, params JsonNode[] tasks) =>
        (day["running"]!["batches"], day["running"]!["tasks"]) = (new JsonArray(Load(Place("P1", 5))), new JsonArray(tasks));

    private static JsonObject OfBatch(string kind, string station, int? end) =>
        new()
        {
            ["kind"] = kind,
            ["station"] = station,
            ["person"] = "ada",
            ["start_s"] = -60,
            ["end_s"] = end,
            ["batch"] = "L1",
        };

    private static JsonObject Without(JsonObject task, string field)
    {
        task.Remove(field);
        return task;
    }

    private static JsonArray Route(JsonNode day) => day["pieces"]![0]!["route"]!.AsArray();

    private static JsonObject Rest() =>
        new()
        {
            ["kind"] = "rest",
            ["min_s"] = 0,
            ["max_s"] = null,
        };

    private static void Twice(JsonNode list) => list.AsArray().Add(list[0]!.DeepClone());

    private static JsonObject Task(int from, int to, params (string Name, string Value)[] more)
    {
        var task = new JsonObject
        {
            ["kind"] = "clean",
            ["station"] = "bench-1",
            ["person"] = "ada",
            ["start_s"] = from,
            ["end_s"] = to,
            ["piece"] = "P1",
            ["step"] = 1,
        };
        foreach (var (name, value) in more)
            task[name] = value;
        return task;
    }
}

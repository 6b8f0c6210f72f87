using System.Text.Json;
using System.Text.Json.Nodes;
using Json.Schema;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Planning.Tests.Day;

namespace ShopFloor.Planning.Tests.Exchange;

/// <summary>What the program writes fits the published schemas, and what does not fit the format does not.</summary>
public sealed class SchemaTests
{
    private static readonly JsonSchema DaySchema = Read("day.schema.json");
    private static readonly JsonSchema PlanSchema = Read("plan.schema.json");

    private static JsonSchema Read(string name) =>
        JsonSchema.FromText(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Docs", "schema", name)));

    private static EvaluationResults Judge(JsonSchema schema, byte[] file)
    {
        using var json = JsonDocument.Parse(file);
        return schema.Evaluate(json.RootElement, new EvaluationOptions { OutputFormat = OutputFormat.List });
    }

    private static void Fits(JsonSchema schema, byte[] file)
    {
        var result = Judge(schema, file);
        var wrong = (result.Details ?? [])
            .Where(d => d.Errors is not null)
            .Select(d => $"{d.InstanceLocation}: {string.Join(", ", d.Errors!.Values)}");
        Assert.True(result.IsValid, string.Join("; ", wrong.Take(5)));
    }

    [Theory]
    [InlineData(1, 1, false)]
    [InlineData(6, 2, true)]
    [InlineData(20, 3, false)]
    [InlineData(30, 4, true)]
    public void Schema_MadeDayAndItsPlan_Fit(int pieces, int seed, bool awkward)
    {
        var day = DayMaker.Make(pieces, (ulong)seed, awkward);
        var plan = DayPlanner.Plan(day, new PlanOptions { Rounds = pieces < 10 ? 1 : 0, Chains = 1 });
        Fits(DaySchema, DayWriter.Write(day));
        Fits(PlanSchema, PlanWriter.Write(plan));
        Fits(DaySchema, DayWriter.Write(AtWork.Later(day, plan, 4_000)));
    }

    [Fact]
    public void Schema_WorkedExample_Fits()
    {
        Fits(DaySchema, TwoPlates.DayBytes);
        Fits(PlanSchema, TwoPlates.PlanBytes);
    }

    [Fact]
    public void Schema_FieldMissingUnknownOrOfTheWrongType_DoesNotFit()
    {
        foreach (var (schema, bytes) in new[] { (DaySchema, TwoPlates.DayBytes), (PlanSchema, TwoPlates.PlanBytes) })
        foreach (var name in JsonNode.Parse(bytes)!.AsObject().Select(f => f.Key))
        {
            Assert.False(Judge(schema, Changed(bytes, o => o.Remove(name))).IsValid, $"without {name}");
            Assert.False(Judge(schema, Changed(bytes, o => o[name] = true)).IsValid, $"{name}: true");
            Assert.False(Judge(schema, Changed(bytes, o => o[name + "_x"] = 1)).IsValid, $"{name}_x");
        }
    }

    private static byte[] Changed(byte[] file, Action<JsonObject> change)
    {
        var root = JsonNode.Parse(file)!.AsObject();
        change(root);
        return JsonSerializer.SerializeToUtf8Bytes(root);
    }
}

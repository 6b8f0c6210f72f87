using ShopFloor.Benchmarks;
using ShopFloor.Planning.Loads;

namespace ShopFloor.Planning.Tests.Loads;

/// <summary>The benchmark's verifier finds every fault that is put into a sound solution.</summary>
public sealed class CheckLoadsTests
{
    // One oven, open [0, 20) and [30, 60). A: jobs 1, 2; B: job 3. Set-ups take 2 s and cost 5 between families, 1 s and 1 within.
    private static readonly OvenInstance Instance = new(
        1,
        new LoadProblem(
            [new("0001", 0, 5, 8, 1, 10, 2, 1, [0]), new("0002", 0, 6, 9, 3, 8, 3, 1, [0]), new("0003", 1, 4, 4, 0, 50, 5, 1, [0])],
            [new("1", 5, 0, [new(0, 20), new(30, 60)]), new("2", 5, 0, [new(0, 60)])],
            2,
            new[,]
            {
                { 1, 2 },
                { 2, 1 },
            },
            new[,]
            {
                { 1, 5 },
                { 5, 1 },
            },
            new(4, 1, 0, 100)
        ),
        1000
    );

    // By hand: dwell (6 + 4)·4 = 40, set-ups 1 + 5, job 2 late (9 > 8) 100: 146.
    private static readonly WrittenLoads Sound = new(1, 1, 146, [new(1, 1, 3, 9, [1, 2]), new(1, 2, 11, 15, [3])]);

    [Fact]
    public void Findings_SoundSolution_None() => Assert.Empty(CheckLoads.Findings(Instance, Sound));

    public static TheoryData<string, string> Broken =>
        new()
        {
            {
                """{"instance":1,"weights":1,"value":145,"batches":[{"oven":1,"attribute":1,"start":3,"end":9,"jobs":[1,2]},{"oven":1,"attribute":2,"start":11,"end":15,"jobs":[3]}]}""",
                "the value is 146, not 145"
            },
            {
                """{"instance":1,"weights":1,"value":146,"batches":[{"oven":1,"attribute":1,"start":3,"end":9,"jobs":[1,2]}]}""",
                "job 3 is missing"
            },
            {
                """{"instance":1,"weights":1,"value":146,"batches":[{"oven":1,"attribute":1,"start":3,"end":9,"jobs":[1,2]},{"oven":1,"attribute":2,"start":11,"end":15,"jobs":[3,3]}]}""",
                "job 3 is in 2 batches"
            },
            {
                """{"instance":1,"weights":1,"value":146,"batches":[{"oven":1,"attribute":1,"start":2,"end":8,"jobs":[1,2]},{"oven":1,"attribute":2,"start":11,"end":15,"jobs":[3]}]}""",
                "job 2 is not there before 3"
            },
            {
                """{"instance":1,"weights":1,"value":146,"batches":[{"oven":1,"attribute":1,"start":3,"end":8,"jobs":[1,2]},{"oven":1,"attribute":2,"start":11,"end":15,"jobs":[3]}]}""",
                "5 is outside the oven time of job 2"
            },
            {
                """{"instance":1,"weights":1,"value":146,"batches":[{"oven":1,"attribute":1,"start":3,"end":12,"jobs":[1,2]},{"oven":1,"attribute":2,"start":14,"end":18,"jobs":[3]}]}""",
                "9 is outside the oven time of job 1"
            },
            {
                """{"instance":1,"weights":1,"value":146,"batches":[{"oven":1,"attribute":1,"start":3,"end":9,"jobs":[1,2]},{"oven":1,"attribute":2,"start":10,"end":14,"jobs":[3]}]}""",
                "no time for the set-up of 2 after 9"
            },
            {
                """{"instance":1,"weights":1,"value":146,"batches":[{"oven":1,"attribute":1,"start":3,"end":9,"jobs":[1,2]},{"oven":1,"attribute":2,"start":31,"end":35,"jobs":[3]}]}""",
                "not within one interval"
            },
            {
                """{"instance":1,"weights":1,"value":146,"batches":[{"oven":1,"attribute":1,"start":3,"end":9,"jobs":[1,2]},{"oven":1,"attribute":2,"start":18,"end":22,"jobs":[3]}]}""",
                "not within one interval"
            },
            {
                """{"instance":1,"weights":1,"value":146,"batches":[{"oven":1,"attribute":1,"start":3,"end":9,"jobs":[1,2]},{"oven":2,"attribute":2,"start":11,"end":15,"jobs":[3]}]}""",
                "job 3 may not go into this oven"
            },
            {
                """{"instance":1,"weights":1,"value":146,"batches":[{"oven":1,"attribute":1,"start":3,"end":9,"jobs":[1,2,3]}]}""",
                "job 3 has another attribute"
            },
            {
                """{"instance":1,"weights":1,"value":146,"batches":[{"oven":1,"attribute":1,"start":3,"end":9,"jobs":[1,2,3]}]}""",
                "10 is above the capacity"
            },
            {
                """{"instance":1,"weights":1,"value":146,"batches":[{"oven":3,"attribute":1,"start":3,"end":9,"jobs":[1,2,3]}]}""",
                "the oven is unknown"
            },
            {
                """{"instance":1,"weights":1,"value":146,"batches":[{"oven":1,"attribute":1,"start":3,"end":9,"jobs":[9]}]}""",
                "job 9 is unknown"
            },
        };

    [Theory]
    [MemberData(nameof(Broken))]
    public void Findings_BrokenSolution_NamesTheFault(string json, string finding)
    {
        var folder = Directory.CreateTempSubdirectory("verify");
        try
        {
            var file = Path.Combine(folder.FullName, "001-w1.json");
            File.WriteAllText(file, json);
            var findings = CheckLoads.Findings(Instance, Written.Load<WrittenLoads>(file));
            Assert.Contains(findings, f => f.Contains(finding, StringComparison.Ordinal));
        }
        finally
        {
            folder.Delete(true);
        }
    }

    [Fact]
    public void Save_SoundSolution_IsWrittenToTheLetter()
    {
        var folder = Directory.CreateTempSubdirectory("verify");
        try
        {
            Written.Save(folder.FullName, Sound.FileName, Sound);
            Assert.Equal(
                """{"instance":1,"weights":1,"value":146,"batches":[{"oven":1,"attribute":1,"start":3,"end":9,"jobs":[1,2]},{"oven":1,"attribute":2,"start":11,"end":15,"jobs":[3]}]}"""
                    + "\n",
                File.ReadAllText(Path.Combine(folder.FullName, "001-w1.json"))
            );
        }
        finally
        {
            folder.Delete(true);
        }
    }

    [Fact]
    public void Plan_SameInstance_VerifierAgreesWithThePlanner()
    {
        var plan = LoadPlanner.Plan(Instance.Problem, new(1, 2000, 1), null, CancellationToken.None);
        WrittenLoads written = new(
            1,
            1,
            plan.Cost,
            [.. plan.Loads.Select(l => new WrittenBatch(l.Oven + 1, l.Family + 1, l.Start, l.End, [.. l.Jobs.Select(j => j + 1)]))]
        );
        Assert.Empty(CheckLoads.Findings(Instance, written));
    }
}

using System.Text.Json;
using ShopFloor.Cli;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Planning.Tests.Day;

namespace ShopFloor.Planning.Tests.Cli;

/// <summary>The console as people use it: exit code 0 fine, 1 findings, 2 bad input, with words that say what.</summary>
public sealed class ConsoleTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("shopfloor-console").FullName;

    public void Dispose() => Directory.Delete(folder, true);

    private string In(string name) => Path.Combine(folder, name);

    private static (int Code, string Out, string Errors) Run(params string[] args)
    {
        using var output = new StringWriter();
        using var errors = new StringWriter();
        return (Commands.Run(args, output, errors), output.ToString(), errors.ToString());
    }

    private (string Day, string Plan) Made(int pieces = 5)
    {
        var count = pieces.ToString(CultureInfo.InvariantCulture);
        Assert.Equal(0, Run("make-day", "--pieces", count, "--seed", "3", "--out", In("day.json")).Code);
        Assert.Equal(0, Run("plan", In("day.json"), "--out", In("plan.json"), "--rounds", "1", "--seed", "2").Code);
        return (In("day.json"), In("plan.json"));
    }

    [Fact]
    public void MakeDay_SameSeed_IsTheSameFile()
    {
        foreach (var name in new[] { "a.json", "b.json" })
            Assert.Equal(0, Run("make-day", "--pieces", "7", "--seed", "4", "--out", In(name)).Code);
        Assert.Equal(File.ReadAllBytes(In("a.json")), File.ReadAllBytes(In("b.json")));
        Assert.Equal(7, DayReader.Read(File.ReadAllBytes(In("a.json")), "a.json").Value.Pieces.Count);
    }

    [Fact]
    public void Plan_GoodDay_WritesAPlanThatCheckFindsNothingIn()
    {
        var (day, plan) = Made();
        var check = Run("check", day, plan);
        Assert.Equal((0, "no findings"), (check.Code, check.Out.Trim()));
        Assert.Equal(Fingerprint.Sha256(File.ReadAllBytes(day)), PlanReader.Read(File.ReadAllBytes(plan), plan).Value.DaySha256);
    }

    [Fact]
    public void Plan_PrintsEveryPartOfTheObjectiveAndTheGap()
    {
        Made();
        var plan = Run("plan", In("day.json"), "--out", In("again.json"), "--rounds", "0");
        Assert.All(Objective.Names, n => Assert.Contains(n, plan.Out, StringComparison.Ordinal));
        Assert.Matches(@"gap \d+\.\d %", plan.Out);
    }

    [Fact]
    public void Plan_WhereACommaStandsForThePoint_PrintsTheGapAllTheSame()
    {
        var culture = CultureInfo.CurrentCulture;
        try
        {
            CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo("de-DE");
            Plan_PrintsEveryPartOfTheObjectiveAndTheGap();
        }
        finally
        {
            CultureInfo.CurrentCulture = culture;
        }
    }

    [Fact]
    public void Plan_SameDaySeedAndRounds_WritesTheSamePlan()
    {
        var (day, plan) = Made();
        Assert.Equal(0, Run("plan", day, "--out", In("again.json"), "--rounds", "1", "--seed", "2").Code);
        static Plan Read(string path) => PlanReader.Read(File.ReadAllBytes(path), path).Value;
        Assert.True(PlanWriter.AreSame(Read(plan), Read(In("again.json"))));
    }

    [Fact]
    public void Check_BrokenPlan_GivesOneAndNamesTheRuleAsLineAndAsJson()
    {
        var (day, path) = Made();
        var plan = PlanReader.Read(File.ReadAllBytes(path), path).Value;
        var clean = plan.Tasks.First(t => t.Kind == "clean");
        File.WriteAllBytes(path, PlanWriter.Write(plan with { Tasks = [.. plan.Tasks.Where(t => t != clean)] }));
        var lines = Run("check", day, path);
        Assert.Equal(1, lines.Code);
        Assert.Contains(
            lines.Out.Split('\n'),
            l => l.StartsWith("step-missing: ", StringComparison.Ordinal) && l.Contains($"pieces {clean.Piece}", StringComparison.Ordinal)
        );
        var json = Run("check", day, path, "--json", "-");
        Assert.Equal(1, json.Code);
        using var findings = JsonDocument.Parse(json.Out);
        var first = findings.RootElement.EnumerateArray().First(f => f.GetProperty("rule").GetString() == "step-missing");
        Assert.Equal(["rule", "text", "amount", "tasks", "pieces", "batches"], first.EnumerateObject().Select(p => p.Name), new AsSets());
        Assert.Equal(clean.Piece, first.GetProperty("pieces")[0].GetString());
    }

    [Fact]
    public void Check_JsonToAFile_WritesItBesideTheLines()
    {
        var (day, plan) = Made();
        var check = Run("check", day, plan, "--json", In("findings.json"));
        Assert.Equal((0, "no findings"), (check.Code, check.Out.Trim()));
        using var findings = JsonDocument.Parse(File.ReadAllBytes(In("findings.json")));
        Assert.Equal(0, findings.RootElement.GetArrayLength());
    }

    [Fact]
    public void Check_TasksOutOfOrder_AreANoteWithThePlaceBesideTheRules()
    {
        var (day, path) = Made();
        var plan = PlanReader.Read(File.ReadAllBytes(path), path).Value;
        File.WriteAllBytes(path, PlanWriter.Write(plan with { Tasks = [.. plan.Tasks.Skip(1), plan.Tasks[0]] }));
        var check = Run("check", day, path);
        Assert.Equal((0, "no findings"), (check.Code, check.Out.Trim()));
        Assert.Matches($@"note: .*plan\.json:\d+:\d+ tasks\[{plan.Tasks.Count - 1}\]\.start_s: tasks are sorted", check.Errors);

        // What breaks a rule is found besides, and counts for more.
        File.WriteAllBytes(path, PlanWriter.Write(plan with { Tasks = [.. plan.Tasks.Skip(2), plan.Tasks[0]] }));
        check = Run("check", day, path);
        Assert.Equal(1, check.Code);
        Assert.Contains("step-missing", check.Out, StringComparison.Ordinal);
        Assert.Contains("tasks are sorted", check.Errors, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("S1", "load-1", "a press session that does not run yet is named S1, S2, … by start")]
    [InlineData("S1", "S01", "a press session that does not run yet is named")]
    [InlineData("S1", "S99", "numbers go by start")]
    public void Check_BatchNamedOtherwise_IsANoteWithThePlace(string from, string to, string said)
    {
        var (day, path) = Made(12);
        var text = File.ReadAllText(path);
        File.WriteAllText(path, text.Replace($"\"{from}\"", $"\"{to}\"", StringComparison.Ordinal));
        var check = Run("check", day, path);
        Assert.Equal((0, "no findings"), (check.Code, check.Out.Trim()));
        Assert.Contains(said, check.Errors, StringComparison.Ordinal);
        Assert.Matches(@"plan\.json:\d+:\d+ batches\[\d+\]\.id: ", check.Errors);
    }

    /// <summary>Plans of this program are as the format has them, also where something runs already.</summary>
    [Fact]
    public void Form_OfItsOwnPlans_IsRight()
    {
        for (var seed = 1UL; seed <= 6; seed++)
        {
            var day = DayMaker.Make(16, seed, seed % 2 == 0);
            foreach (var some in new[] { day, AtWork.Later(day, DayPlanner.First(day), 6_000) })
            {
                var plan = DayPlanner.Plan(some, new PlanOptions { Rounds = 1, Chains = 1 });
                Assert.Empty(PlanForm.Check(some, plan, PlanWriter.Write(plan), "plan.json"));
            }
        }
    }

    [Fact]
    public void Show_GoodPlan_DrawsEveryPersonStationAndBatch()
    {
        var (day, plan) = Made();
        var show = Run("show", day, plan);
        Assert.Equal(0, show.Code);
        var made = DayReader.Read(File.ReadAllBytes(day), day).Value;
        var planned = PlanReader.Read(File.ReadAllBytes(plan), plan).Value;
        var lines = show.Out.Split('\n');
        Assert.All(
            made.People.Select(p => p.Id).Concat(made.Stations.Select(s => s.Id)),
            id => Assert.Contains(lines, l => l.StartsWith(id, StringComparison.Ordinal) && l.Contains('|', StringComparison.Ordinal))
        );
        Assert.All(planned.Batches, b => Assert.Contains(lines, l => l.StartsWith($"{b.Id} {b.Kind}", StringComparison.Ordinal)));
        Assert.All(
            planned.Why.Where(w => w.Batch is not null),
            w => Assert.Contains($"{w.Batch}: {w.HeldBy}", show.Out, StringComparison.Ordinal)
        );
    }

    public static TheoryData<string, string> Wrong() =>
        new()
        {
            { "", "Say what to do" },
            { "dance", "There is no command 'dance'" },
            { "plan", "1 file names are needed" },
            { "plan {day}", "Option --out is missing" },
            { "plan {day} --out {out} --rounds 1 --seconds 1", "not both" },
            { "plan {day} --out {out} --rounds -1", "--rounds must be a whole number" },
            { "plan {day} --out {out} --rounds many", "--rounds must be a whole number" },
            { "plan {day} --out {out} --seed 1 --seed 2", "--seed is given twice" },
            { "plan {day} --out {out} --quick", "There is no option --quick" },
            { "plan {day} --out", "--out needs a value" },
            { "plan {none} --out {out}", "cannot be read" },
            { "plan {day} --out {out} --seconds 0", "--seconds must be a whole number from 1" },
            { "plan {day} --out {folder}", "cannot be written" },
            { "plan {plan} --out {out}", "must be \"shopfloor-day/1\"" },
            { "check {day}", "2 file names are needed" },
            { "check {day} {day}", "must be \"shopfloor-plan/1\"" },
            { "check {day} {broken}", ":3:" },
            { "show {none} {plan}", "cannot be read" },
            { "show {day} {broken}", "not JSON" },
            { "make-day --seed 1 --out {out}", "Option --pieces is missing" },
            { "make-day --pieces 0 --seed 1 --out {out}", "--pieces must be a whole number from 1" },
            { "make-day --pieces 3 --seed 1", "Option --out is missing" },
        };

    [Theory]
    [MemberData(nameof(Wrong))]
    public void Run_BadInput_GivesTwoAndSaysWhatToPutRight(string line, string word)
    {
        var (day, plan) = Made(2);
        File.WriteAllText(In("broken.json"), "{\n\n  oops");
        var args = line.Split(' ', StringSplitOptions.RemoveEmptyEntries)
            .Select(a =>
                a switch
                {
                    "{day}" => day,
                    "{plan}" => plan,
                    "{out}" => In("out.json"),
                    "{folder}" => In("."),
                    "{none}" => In("none.json"),
                    "{broken}" => In("broken.json"),
                    _ => a,
                }
            );
        var run = Run([.. args]);
        Assert.Equal((2, ""), (run.Code, run.Out));
        Assert.Contains(word, run.Errors, StringComparison.Ordinal);
        Assert.False(File.Exists(In("out.json")));
    }

    /// <summary>A limit of time only chooses how many rounds: the plan says how many, and so many give it again.</summary>
    [Fact]
    public void Plan_ByTheClock_NamesItsRoundsAndIsTheirPlan()
    {
        Run("make-day", "--pieces", "3", "--seed", "4", "--out", In("short.json"));
        Assert.Equal(0, Run("plan", In("short.json"), "--out", In("clock.json"), "--seconds", "1").Code);
        var byClock = PlanReader.Read(File.ReadAllBytes(In("clock.json")), "clock.json").Value;
        var rounds = byClock.Search.Rounds!.Value.ToString(CultureInfo.InvariantCulture);
        Assert.Equal(0, Run("plan", In("short.json"), "--out", In("rounds.json"), "--rounds", rounds).Code);
        var byRounds = PlanReader.Read(File.ReadAllBytes(In("rounds.json")), "rounds.json").Value;
        Assert.Equal(PlanWriter.Write(byClock with { TimingMs = 0 }), PlanWriter.Write(byRounds with { TimingMs = 0 }));
    }

    [Fact]
    public void Help_ListsEveryCommand()
    {
        var help = Run("help");
        Assert.Equal(0, help.Code);
        Assert.All(new[] { "plan", "check", "make-day", "show" }, c => Assert.Contains($"  {c} ", help.Out, StringComparison.Ordinal));
    }

    private sealed class AsSets : IEqualityComparer<IEnumerable<string>>
    {
        public bool Equals(IEnumerable<string>? x, IEnumerable<string>? y) => x!.ToHashSet(StringComparer.Ordinal).SetEquals(y!);

        public int GetHashCode(IEnumerable<string> obj) => 0;
    }
}

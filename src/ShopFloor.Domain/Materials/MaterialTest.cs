namespace ShopFloor.Domain.Materials;

/// <summary>What a test piece has shown.</summary>
public enum TestOutcome
{
    /// <summary>It came out well.</summary>
    Good,

    /// <summary>It came out, with limits that the note names.</summary>
    Limits,

    /// <summary>It did not.</summary>
    Refuse,
}

/// <summary>The result of one test piece, kept for its material. It is dated and leads back to the piece, and so to all that made it.</summary>
/// <param name="Id">Names it.</param>
/// <param name="Material">Key of the material.</param>
/// <param name="Form">How the tested piece stood in space: a result for a flat piece says nothing about a curved one.</param>
/// <param name="CureCelsius">Hottest oven set point it saw, °C; null: none.</param>
/// <param name="PressCelsius">Press set point it saw, °C; null: none.</param>
/// <param name="Outcome">What it has shown.</param>
/// <param name="Note">The limits, or what was seen.</param>
/// <param name="Piece">Code of the test piece.</param>
/// <param name="At">When it was judged, UTC.</param>
public sealed record MaterialTest(
    Guid Id,
    string Material,
    Form Form,
    double? CureCelsius,
    double? PressCelsius,
    TestOutcome Outcome,
    string Note,
    string Piece,
    DateTimeOffset At
)
{
    /// <summary>In one sentence without its date, e.g. <c>Tested here (4T7F7H): good</c>.</summary>
    public string Sentence =>
        Outcome switch
        {
            TestOutcome.Good => $"Tested here ({Piece}): good{Words}.",
            TestOutcome.Limits => $"Tested here ({Piece}), with limits{Words}.",
            _ => $"Tested here ({Piece}): not good{Words}.",
        };

    private string Words => Note.Length > 0 ? $": {Note.TrimEnd('.')}" : "";

    /// <summary>True when this test saw at least that heat, so that it says something about it.</summary>
    public bool Covers(double? cureCelsius, double? pressCelsius) =>
        (cureCelsius is null || CureCelsius >= cureCelsius) && (pressCelsius is null || PressCelsius >= pressCelsius);
}

/// <summary>
/// How the workshop's own tests change a verdict. A test answers an open question (<see cref="Verdict.TestPiece"/>) about heat or form, for
/// that material, that form and no more heat than it saw; the latest counts. It never lifts a refusal of the material list nor answers what
/// may be hidden in a piece, and it says nothing about a material that nobody can name. A bad result refuses.
/// </summary>
public static class TestedHere
{
    /// <summary>The test that counts; null when none does.</summary>
    public static MaterialTest? Latest(
        IEnumerable<MaterialTest> tests,
        MaterialSheet material,
        Form form,
        double? cureCelsius,
        double? pressCelsius
    ) =>
        material.Class == MaterialClass.Unknown
            ? null
            : tests
                .Where(t =>
                    string.Equals(t.Material, material.Key, StringComparison.Ordinal)
                    && t.Form == form
                    // What failed with less heat fails with more.
                    && (t.Outcome == TestOutcome.Refuse ? IsNoHotter(t, cureCelsius, pressCelsius) : t.Covers(cureCelsius, pressCelsius))
                )
                .MaxBy(t => t.At);

    /// <summary>The findings with the test's word in them.</summary>
    internal static IEnumerable<SuitabilityFinding> Apply(IEnumerable<SuitabilityFinding> findings, MaterialTest? test)
    {
        foreach (var finding in findings)
            yield return test is { Outcome: not TestOutcome.Refuse } && finding.Verdict == Verdict.TestPiece && IsAnsweredBy(finding)
                ? finding with
                {
                    Verdict = Verdict.Take,
                }
                : finding;
        if (test is not null)
            yield return new SuitabilityFinding(
                test.Outcome == TestOutcome.Refuse ? Verdict.Refuse : Verdict.Take,
                "tested-here",
                test.Sentence,
                Hazard.None,
                null,
                null,
                "own test piece"
            );
    }

    private static bool IsAnsweredBy(SuitabilityFinding finding) =>
        finding.Code.StartsWith("heat-", StringComparison.Ordinal) || finding.Code == "form-curved";

    private static bool IsNoHotter(MaterialTest test, double? cureCelsius, double? pressCelsius) =>
        !(test.CureCelsius > cureCelsius) && !(test.PressCelsius > pressCelsius);
}

using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Materials;

/// <summary>One reason for a verdict.</summary>
/// <param name="Verdict">What this reason alone asks for.</param>
/// <param name="Code">Stable machine name in kebab case.</param>
/// <param name="Reason">Why, in one plain sentence.</param>
/// <param name="Hazard">What would go wrong.</param>
/// <param name="WorstCelsius">The temperature it was judged at, set point plus overshoot, in °C; null when temperature plays no part.</param>
/// <param name="LimitCelsius">The material's limit in °C; null when it has none.</param>
/// <param name="Source">Where the limit comes from.</param>
public sealed record SuitabilityFinding(
    Verdict Verdict,
    string Code,
    string Reason,
    Hazard Hazard,
    double? WorstCelsius,
    double? LimitCelsius,
    string Source
);

/// <summary>The verdict on a piece with all reasons, the most severe first.</summary>
/// <param name="Verdict">The most severe of the findings.</param>
/// <param name="Findings">All that speaks for or against; never empty.</param>
/// <param name="DryFirst">True when it holds moisture that must go first, see <see cref="Moisture"/>.</param>
/// <param name="Tested">The workshop's own test that counted; null when there is none.</param>
public sealed record SuitabilityVerdict(
    Verdict Verdict,
    IReadOnlyList<SuitabilityFinding> Findings,
    bool DryFirst,
    MaterialTest? Tested = null
)
{
    /// <summary>The verdict and its first reason in plain words for the counter.</summary>
    public string Sentence =>
        Verdict switch
        {
            Verdict.Take => "We can take this piece.",
            Verdict.TestPiece => $"Only after a test piece: {LowerFirst(Findings[0].Reason)}",
            _ => $"We cannot take this piece: {LowerFirst(Findings[0].Reason)}",
        };

    // Names such as PVC keep their capitals.
    private static string LowerFirst(string text) =>
        text.Length > 1 && char.IsUpper(text[1]) ? text : char.ToLowerInvariant(text[0]) + text[1..];
}

/// <summary>Judges whether a piece can take the heat of a finish. Data sheets and local codes rule over it.</summary>
public static class Suitability
{
    /// <summary>How far an oven or press may run over its set point, in kelvin: common practice, no source.</summary>
    public const double DefaultOvershootKelvin = 10;

    /// <summary>The verdict for a piece.</summary>
    /// <param name="material">Its row of the material list; <see cref="ShippedMaterials.Unknown"/> when nobody can name it.</param>
    /// <param name="cureCelsius">Highest oven set point of the recipe in °C, 20 to 400; null when nothing is cured.</param>
    /// <param name="pressCelsius">Press set point of the recipe in °C, 20 to 400; null when nothing is pressed.</param>
    /// <param name="form">How it stands in space.</param>
    /// <param name="hidden">What is known about hidden parts; only the parts asked for this material count.</param>
    /// <param name="hasWrapPress">True when the workshop has a station that presses round a cylinder.</param>
    /// <param name="overshootKelvin">How far the set point may be overrun, 0 to 50 K.</param>
    /// <param name="tests">Results of the workshop's own test pieces; null: none.</param>
    /// <returns>The verdict, or refusals for impossible numbers.</returns>
    public static Result<Explained<SuitabilityVerdict>> Judge(
        MaterialSheet material,
        double? cureCelsius,
        double? pressCelsius,
        Form form,
        HiddenParts hidden,
        bool hasWrapPress = false,
        double overshootKelvin = DefaultOvershootKelvin,
        IReadOnlyList<MaterialTest>? tests = null
    ) =>
        new Entered()
            .Between(cureCelsius ?? 20, 20, 400, "The cure temperature", "°C", nameof(cureCelsius))
            .Between(pressCelsius ?? 20, 20, 400, "The press temperature", "°C", nameof(pressCelsius))
            .Between(overshootKelvin, 0, 50, "The overshoot", "K")
            .Then<Explained<SuitabilityVerdict>>(() =>
            {
                List<SuitabilityFinding> findings = [];
                if (cureCelsius is { } cure)
                {
                    findings.Add(FromHeat(material, material.Cure, "cure", cure + overshootKelvin));
                }

                if (pressCelsius is { } press)
                {
                    findings.Add(FromHeat(material, material.Press, "press", press + overshootKelvin));
                }

                findings.Add(FromForm(form, pressCelsius is not null, hasWrapPress));
                findings.AddRange(HiddenPartQuestion.For(material.Class, form).Select(q => FromHiddenPart(q.Part, hidden.About(q.Part))));
                if (hidden.OldCoat is { } coat)
                    findings.Add(FromOldCoat(coat));
                var test = TestedHere.Latest(tests ?? [], material, form, cureCelsius, pressCelsius);
                return Explained(material, (cureCelsius, pressCelsius, overshootKelvin), [.. TestedHere.Apply(findings, test)], test);
            });

    private static Explained<SuitabilityVerdict> Explained(
        MaterialSheet material,
        (double? CureCelsius, double? PressCelsius, double OvershootKelvin) heat,
        List<SuitabilityFinding> findings,
        MaterialTest? test
    )
    {
        // OrderBy is stable, so among equals heat comes before form and hidden parts.
        SuitabilityFinding[] sorted = [.. findings.OrderByDescending(f => f.Verdict)];
        var verdict = new SuitabilityVerdict(sorted[0].Verdict, sorted, material.DryFirst, test);
        List<ExplainedInput> inputs = [ExplainedInput.Word("material", material.Name)];
        inputs.AddRange(heat.CureCelsius is { } cure ? [ExplainedInput.Of("oven temperature of the recipe", cure, "°C")] : []);
        inputs.AddRange(heat.PressCelsius is { } press ? [ExplainedInput.Of("press temperature of the recipe", press, "°C")] : []);
        inputs.Add(ExplainedInput.Of("overshoot", heat.OvershootKelvin, "K"));
        return Explain.As(
            verdict,
            verdict.Sentence,
            inputs,
            "temperature of the recipe + what oven or press may run over it is compared with the material's limit; form and hidden parts are judged beside it; the most severe rules",
            $"{material.LimitText} ({material.LimitSource}); overshoot: {Explanation.CommonPractice}",
            isEstimate: verdict.Verdict == Verdict.TestPiece,
            [
                .. sorted.Where(f => f.Verdict != Verdict.Take).Select(f => f.Reason).Distinct(StringComparer.Ordinal),
                .. test is { Outcome: not TestOutcome.Refuse } ? new[] { test.Sentence } : [],
                .. material.Note.Length > 0 ? new[] { material.Note } : [],
                .. Moisture.Notes(material),
            ]
        );
    }

    private static SuitabilityFinding FromHeat(MaterialSheet material, HeatRule rule, string step, double worstCelsius) =>
        new(rule.At(worstCelsius), $"heat-{step}", rule.Reason, rule.Hazard, worstCelsius, rule.LimitCelsius, material.LimitSource);

    private static SuitabilityFinding FromForm(Form form, bool isPressed, bool hasWrapPress) =>
        form switch
        {
            Form.Flat => Plain(Verdict.Take, "form-flat", "A flat press can take it.", Hazard.None),
            Form.SlightlyCurved => Plain(
                Verdict.TestPiece,
                "form-curved",
                "A slightly curved face may print unevenly under a flat press.",
                Hazard.None
            ),
            Form.Cylinder when isPressed && !hasWrapPress => Plain(
                Verdict.Refuse,
                "form-no-wrap-press",
                "A round piece needs a wrap press, and the workshop has none.",
                Hazard.None
            ),
            Form.Cylinder => Plain(Verdict.Take, "form-cylinder", "The wrap press can take it.", Hazard.None),
            _ => throw new ArgumentOutOfRangeException(nameof(form), form, "No such form."),
        };

    private static SuitabilityFinding FromHiddenPart(HiddenPart part, Answer answer)
    {
        var (code, there, unknown, hazard, bursts) = part switch
        {
            HiddenPart.SealedHollow => (
                "hidden-sealed",
                "A closed hollow bursts in the oven.",
                "Find out first whether it is a closed hollow: it could burst.",
                Hazard.Burst,
                true
            ),
            HiddenPart.FuelBatteryOrLiquid => (
                "hidden-fuel",
                "Fuel, gas, a battery or a liquid inside must be out before anything is heated.",
                "Find out first whether fuel, gas, a battery or a liquid is inside.",
                Hazard.Burst,
                true
            ),
            HiddenPart.SolderedJoint => (
                "hidden-solder",
                "A soft-soldered joint comes apart at 183 °C.",
                "A hidden soldered joint could come apart.",
                Hazard.Unsolder,
                false
            ),
            HiddenPart.GluedPart => (
                "hidden-glue",
                "Glue softens, so glued parts must come off first.",
                "A hidden glued part could come off.",
                Hazard.Soften,
                false
            ),
            HiddenPart.LaminatedLayer => (
                "hidden-laminate",
                "Layers joined by a film come apart below 120 °C.",
                "If it is laminated or a mirror, the layers come apart.",
                Hazard.Warp,
                false
            ),
            HiddenPart.PlasticOrRubberInsert => (
                "hidden-insert",
                "Parts of plastic or rubber must come off first.",
                "Hidden parts of plastic or rubber could soften or smoke.",
                Hazard.Soften,
                false
            ),
            _ => throw new ArgumentOutOfRangeException(nameof(part), part, "No such hidden part."),
        };
        return answer switch
        {
            Answer.No => Plain(Verdict.Take, code, "Nothing of the kind is hidden in it.", Hazard.None),
            Answer.Yes => Plain(Verdict.Refuse, code, there, hazard),
            // What may burst is no matter for a test piece: somebody has to look.
            _ => Plain(bursts ? Verdict.Refuse : Verdict.TestPiece, code, unknown, hazard),
        };
    }

    // A test of the material alone says nothing of what another hand put on it.
    private static SuitabilityFinding FromOldCoat(Answer answer) =>
        answer switch
        {
            Answer.No => Plain(Verdict.Take, "old-coat", "No old coat is on it.", Hazard.None),
            Answer.Yes => Plain(
                Verdict.TestPiece,
                "old-coat",
                "An old coat must be stripped first, and only a test shows whether the new one holds: in the heat an old coat smokes, softens or lifts.",
                Hazard.Fume
            ),
            _ => Plain(
                Verdict.TestPiece,
                "old-coat",
                "An old coat may be on it: somebody has to look, strip what there is and make a test first, because in the heat an old coat smokes, softens or lifts.",
                Hazard.Fume
            ),
        };

    private static SuitabilityFinding Plain(Verdict verdict, string code, string reason, Hazard hazard) =>
        new(verdict, code, reason, hazard, null, null, Explanation.CommonPractice);
}

using CsCheck;
using ShopFloor.Domain.Materials;

namespace ShopFloor.Domain.Tests.Materials;

public sealed class SuitabilityTests
{
    private static readonly Gen<MaterialSheet> Sheets = Gen.OneOf([.. ShippedMaterials.All]);

    [Fact]
    public void ShippedMaterials_EveryRow_IsWhole()
    {
        Assert.Equal(ShippedMaterials.All.Count, ShippedMaterials.All.Select(s => s.Key).Distinct(StringComparer.Ordinal).Count());
        Assert.All(
            ShippedMaterials.All,
            sheet =>
            {
                Assert.NotEmpty(sheet.LimitSource);
                Assert.NotEmpty(sheet.ThermalSource);
                Assert.NotEmpty(sheet.EmissivitySource);
                Assert.NotEmpty(sheet.Cure.Reason);
                Assert.NotEmpty(sheet.Press.Reason);
                Assert.True(sheet.Cure.Beyond >= sheet.Cure.Within && sheet.Press.Beyond >= sheet.Press.Within);
            }
        );
    }

    [Fact]
    public void Judge_Hotter_IsNeverMilder() =>
        Gen.Select(Sheets, Gen.Double[40, 200], Gen.Double[0, 150], Gen.Enum<Form>())
            .Sample(
                (sheet, celsius, more, form) =>
                {
                    Verdict At(double c) => Suitability.Judge(sheet, c, c, form, HiddenParts.None).Value.Value.Verdict;
                    return At(celsius + more) >= At(celsius);
                }
            );

    [Fact]
    public void Judge_LessKnownAboutHiddenParts_IsNeverMilder() =>
        Gen.Select(Sheets, Gen.Enum<Form>())
            .Sample(
                (sheet, form) =>
                    Suitability.Judge(sheet, 160, 190, form, new HiddenParts()).Value.Value.Verdict
                    >= Suitability.Judge(sheet, 160, 190, form, HiddenParts.None).Value.Value.Verdict
            );

    [Theory]
    [InlineData("al", Verdict.Take)]
    [InlineData("ss", Verdict.Take)]
    [InlineData("tile", Verdict.Take)]
    [InlineData("slate", Verdict.TestPiece)]
    [InlineData("zn", Verdict.Refuse)]
    [InlineData("pmma", Verdict.Refuse)]
    [InlineData("pvc", Verdict.Refuse)]
    [InlineData("ptfe", Verdict.Refuse)]
    [InlineData("hardwood", Verdict.Refuse)]
    public void Judge_UsualRecipe_FollowsTheList(string key, Verdict verdict)
    {
        var answer = Suitability.Judge(ShippedMaterials.Find(key)!, 160, 190, Form.Flat, HiddenParts.None).Value;
        Assert.Equal(verdict, answer.Value.Verdict);
        Assert.Equal(answer.Value.Sentence, answer.Why.Answer);
    }

    [Fact]
    public void Judge_GalvanisedAboveItsLimit_IsRefusedOnlyWithTheOvershoot()
    {
        var galvanised = ShippedMaterials.Find("galv")!;
        Assert.Equal(Verdict.TestPiece, Suitability.Judge(galvanised, 160, 190, Form.Flat, HiddenParts.None).Value.Value.Verdict);
        var hotter = Suitability.Judge(galvanised, 160, 195, Form.Flat, HiddenParts.None).Value.Value;
        Assert.Equal(Verdict.Refuse, hotter.Verdict);
        Assert.Equal((205.0, 200.0), (hotter.Findings[0].WorstCelsius!.Value, hotter.Findings[0].LimitCelsius!.Value));
    }

    [Fact]
    public void Judge_WoodPressedOnly_NeedsATestPiece() =>
        Assert.Equal(
            Verdict.TestPiece,
            Suitability.Judge(ShippedMaterials.Find("hardwood")!, null, 190, Form.Flat, HiddenParts.None).Value.Value.Verdict
        );

    [Fact]
    public void Judge_UnknownMaterial_MeansATestPieceAndDrying()
    {
        var answer = Suitability.Judge(ShippedMaterials.Unknown, 160, 190, Form.Flat, HiddenParts.None).Value.Value;
        Assert.Equal(Verdict.TestPiece, answer.Verdict);
        Assert.True(answer.DryFirst);
        Assert.StartsWith("Only after a test piece: nobody", answer.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void Judge_MaybeSealedFlask_IsRefusedUntilSomebodyLooks()
    {
        var steel = ShippedMaterials.Find("ss")!;
        var answer = Suitability.Judge(steel, 160, 190, Form.Cylinder, new HiddenParts(), hasWrapPress: true).Value.Value;
        Assert.Equal(Verdict.Refuse, answer.Verdict);
        Assert.Equal(Hazard.Burst, answer.Findings[0].Hazard);
        Assert.Contains("Find out first", answer.Findings[0].Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void Judge_SolderedHandle_IsRefused()
    {
        var hidden = HiddenParts.None with { SolderedJoint = Answer.Yes };
        var answer = Suitability.Judge(ShippedMaterials.Find("brass")!, 160, 190, Form.Flat, hidden).Value.Value;
        Assert.Equal((Verdict.Refuse, Hazard.Unsolder), (answer.Verdict, answer.Findings[0].Hazard));
    }

    [Theory]
    [InlineData(false, Verdict.Refuse)]
    [InlineData(true, Verdict.Take)]
    public void Judge_Cylinder_NeedsAWrapPress(bool hasWrapPress, Verdict verdict) =>
        Assert.Equal(
            verdict,
            Suitability.Judge(ShippedMaterials.Find("tile")!, 160, 190, Form.Cylinder, HiddenParts.None, hasWrapPress).Value.Value.Verdict
        );

    [Fact]
    public void For_EveryMaterialAndForm_AsksAndTheAnswersCount() =>
        Gen.Select(Gen.Enum<MaterialClass>(), Gen.Enum<Form>())
            .Sample(
                (material, form) =>
                {
                    var questions = HiddenPartQuestion.For(material, form);
                    Assert.NotEmpty(questions);
                    Assert.All(questions, q => Assert.EndsWith("?", q.Question, StringComparison.Ordinal));
                    Assert.All(questions, q => Assert.Equal(Answer.No, HiddenParts.None.About(q.Part)));
                }
            );

    [Theory]
    [InlineData(double.NaN, "cureCelsius")]
    [InlineData(-5, "cureCelsius")]
    [InlineData(900, "cureCelsius")]
    public void Judge_ImpossibleTemperature_IsRefusedAtItsField(double celsius, string field) =>
        Assert.Equal(
            field,
            Assert.Single(Suitability.Judge(ShippedMaterials.Find("al")!, celsius, 190, Form.Flat, HiddenParts.None).Refusals).Field
        );

    /// <summary>What another hand put on it decides for a test piece, whatever the material; a piece described before it was asked is judged as it was.</summary>
    [Theory]
    [InlineData(null, Verdict.Take)]
    [InlineData(Answer.No, Verdict.Take)]
    [InlineData(Answer.Yes, Verdict.TestPiece)]
    [InlineData(Answer.Unknown, Verdict.TestPiece)]
    public void Judge_OldCoat_IsStrippedAndTestedFirst(Answer? said, Verdict expected)
    {
        var hidden = HiddenParts.None with { OldCoat = said };
        var verdict = Suitability.Judge(ShippedMaterials.Find("al")!, 160, 190, Form.Flat, hidden).Value.Value;
        Assert.Equal(expected, verdict.Verdict);
        Assert.Equal(expected == Verdict.TestPiece, verdict.Findings[0].Code == "old-coat");
        Assert.Equal(expected == Verdict.TestPiece, hidden.MayHaveOldCoat);
        Assert.Equal(expected == Verdict.Take, hidden.IsNothing);
    }
}

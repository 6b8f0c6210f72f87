using ShopFloor.Domain.Materials;

namespace ShopFloor.Domain.Tests.Materials;

/// <summary>How the workshop's own tests change a verdict; a rule of the house, no source.</summary>
public sealed class TestedHereTests
{
    private static readonly DateTimeOffset Nine = new(2026, 3, 4, 9, 0, 0, TimeSpan.Zero);

    // A material whose verdict at 160 and 190 °C asks for a test piece.
    private static MaterialSheet Toughened => ShippedMaterials.All.First(m => m.Key == "glass-t");

    [Fact]
    public void Judge_AfterAGoodTest_TakesItAndSaysFromWhichPiece()
    {
        Assert.Equal(Verdict.TestPiece, Judge(Toughened, []).Verdict);
        var verdict = Judge(Toughened, [Test(TestOutcome.Good)]);
        Assert.Equal((Verdict.Take, "4T7F7H"), (verdict.Verdict, verdict.Tested!.Piece));
        Assert.Contains(verdict.Findings, f => f.Code == "tested-here" && f.Reason.Contains("4T7F7H", StringComparison.Ordinal));
    }

    [Fact]
    public void Judge_AfterALaterBadTest_Refuses() =>
        Assert.Equal(
            Verdict.Refuse,
            Judge(Toughened, [Test(TestOutcome.Good), Test(TestOutcome.Refuse) with { At = Nine.AddDays(1) }]).Verdict
        );

    [Fact]
    public void Judge_TestedWithLessHeat_StillAsksForATest() =>
        Assert.Equal(Verdict.TestPiece, Judge(Toughened, [Test(TestOutcome.Good) with { PressCelsius = 180 }]).Verdict);

    [Fact]
    public void Judge_BadWithMoreHeat_SaysNothingAboutLess() =>
        Assert.Equal(Verdict.TestPiece, Judge(Toughened, [Test(TestOutcome.Refuse) with { PressCelsius = 200 }]).Verdict);

    [Fact]
    public void Judge_TestedFlat_SaysNothingAboutACurvedOne() =>
        Assert.Equal(Verdict.TestPiece, Judge(Toughened, [Test(TestOutcome.Good)], Form.SlightlyCurved).Verdict);

    [Fact]
    public void Judge_HiddenPartsUnknown_AreNotAnsweredByATest() =>
        Assert.NotEqual(
            Verdict.Take,
            Suitability.Judge(Toughened, 160, 190, Form.Flat, new HiddenParts(), tests: [Test(TestOutcome.Good)]).Value.Value.Verdict
        );

    [Fact]
    public void Judge_OldCoat_IsNotAnsweredByATest()
    {
        var hidden = HiddenParts.None with { OldCoat = Answer.Yes };
        var judged = Suitability.Judge(Toughened, 160, 190, Form.Flat, hidden, tests: [Test(TestOutcome.Good)]).Value.Value;
        Assert.Equal(Verdict.TestPiece, judged.Verdict);
    }

    [Fact]
    public void Judge_AGoodTest_NeverLiftsARefusalOfTheList()
    {
        var refused = ShippedMaterials.All.First(m => m.Press.At(200) == Verdict.Refuse);
        Assert.Equal(Verdict.Refuse, Judge(refused, [Test(TestOutcome.Good) with { Material = refused.Key }]).Verdict);
    }

    [Fact]
    public void Judge_WhatNobodyCanName_IsNeverAnsweredByATest() =>
        Assert.Equal(
            Verdict.TestPiece,
            Judge(ShippedMaterials.Unknown, [Test(TestOutcome.Good) with { Material = ShippedMaterials.Unknown.Key }]).Verdict
        );

    private static MaterialTest Test(TestOutcome outcome) =>
        new(Guid.Empty, "glass-t", Form.Flat, 160, 190, outcome, "seen", "4T7F7H", Nine);

    private static SuitabilityVerdict Judge(MaterialSheet material, IReadOnlyList<MaterialTest> tests, Form form = Form.Flat) =>
        Suitability.Judge(material, 160, 190, form, HiddenParts.None, tests: tests).Value.Value;
}

using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Domain.Tests.Pieces;

/// <summary>Who may share a batch. The figures are those of the worked example of two plates in the plan format.</summary>
public sealed class BatchRuleTests
{
    private static BatchMember Member(string code, RecipeStep step, decimal millimetres = 1) =>
        new(new PieceId(PieceOnItsWay.Id(code[^1])), code, step, Length.FromMillimetres(millimetres));

    private static RecipeStep Cure(int min, int max, decimal celsius = 160) =>
        new(5, StepKind.Cure)
        {
            Celsius = celsius,
            MinSeconds = min,
            MaxSeconds = max,
        };

    private static RecipeStep Press(string lies = "print above") =>
        new(8, StepKind.Press)
        {
            Celsius = 190,
            MinSeconds = 50,
            MaxSeconds = 70,
            Pressure = "medium",
            LayUp = lies,
        };

    [Fact]
    public void Fit_WindowsThatMeet_GivesTheirCommonPart()
    {
        var fit = BatchRule.Fit(BatchKind.OvenLoad, [Member("P1", Cure(900, 1200)), Member("P2", Cure(960, 1300))], 4, null, 0).Value;
        Assert.Equal((960, 1200, 160m, 164m), (fit.MinSeconds, fit.MaxSeconds, fit.Celsius, fit.DialCelsius));
    }

    [Fact]
    public void Fit_WindowsThatShareOneSecond_Fit() =>
        Assert.True(BatchRule.Fit(BatchKind.OvenLoad, [Member("P1", Cure(900, 1200)), Member("P2", Cure(1200, 1300))], 0, null, 0).IsOk);

    [Theory]
    [InlineData(1201, 1300, 160, "windows-apart")]
    [InlineData(900, 1200, 150, "temperature-differs")]
    public void Fit_CuresApart_SaysWhy(int min, int max, int celsius, string code)
    {
        var answer = BatchRule.Fit(BatchKind.OvenLoad, [Member("P1", Cure(900, 1200)), Member("P2", Cure(min, max, celsius))], 0, null, 0);
        Assert.Contains(answer.Refusals, r => r.Code == code);
    }

    [Theory]
    [InlineData(1.5, true)]
    [InlineData(1.501, false)]
    public void Fit_ThicknessAtTheTolerance_FitsExactlyUpToIt(double millimetres, bool fits)
    {
        var answer = BatchRule.Fit(
            BatchKind.PressSession,
            [Member("P1", Press()), Member("P2", Press(), (decimal)millimetres)],
            0,
            Length.FromMillimetres(0.5m),
            0
        );
        Assert.Equal(fits, answer.IsOk);
    }

    [Fact]
    public void Fit_OtherLayUp_IsRefused() =>
        Assert.Contains(
            BatchRule.Fit(BatchKind.PressSession, [Member("P1", Press()), Member("P2", Press("print below"))], 0, null, 0).Refusals,
            r => r.Code == "press-differs"
        );

    [Fact]
    public void Fit_CureAndDryTogether_IsRefused() =>
        Assert.Contains(
            BatchRule
                .Fit(
                    BatchKind.OvenLoad,
                    [Member("P1", Cure(900, 1200)), Member("P2", Cure(900, 1200) with { Kind = StepKind.Dry })],
                    0,
                    null,
                    0
                )
                .Refusals,
            r => r.Code == "step-differs"
        );

    [Fact]
    public void Arrange_AfterStart_IsRefused()
    {
        var batch = new Batch(
            new BatchId(PieceOnItsWay.Id(1)),
            BatchKind.OvenLoad,
            "L-1",
            new StationId(PieceOnItsWay.Id(2)),
            new BatchSettings(),
            PieceOnItsWay.Start
        );
        var place = new BatchPlace(new PieceId(PieceOnItsWay.Id(3)), 5, 1, 0, 0, false);
        Assert.True(batch.Arrange([place], new BatchSettings()).IsOk);
        Assert.True(batch.Start(PieceOnItsWay.Start).IsOk);
        Assert.Equal("batch-begun", batch.Arrange([], new BatchSettings()).Refusals[0].Code);
        Assert.Equal("batch-begun", batch.ScanIn(place.Piece, true).Refusals[0].Code);
        Assert.True(batch.StepBack().IsOk);
        Assert.True(batch.ScanIn(place.Piece, true).IsOk);
    }
}

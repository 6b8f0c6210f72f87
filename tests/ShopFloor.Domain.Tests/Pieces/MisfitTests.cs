using ShopFloor.Domain.Pieces;

namespace ShopFloor.Domain.Tests.Pieces;

/// <summary>A wrong tray scanned in gets one answer, however many pieces are on it.</summary>
public sealed class MisfitTests
{
    private static Misfit At(string code, string step) => new("step-differs", $"{code} is at {step}.", $"standing at {step}");

    [Fact]
    public void Refuse_One_NamesIt() => Assert.Equal("P1 is at Clean.", Misfit.Refuse([At("P1", "Clean")], 4).Text);

    [Fact]
    public void Refuse_Several_CountsThemByReasonTheMostFirst() =>
        Assert.Equal(
            "2 of 5 pieces fit, 3 do not: 2 standing at Clean; 1 standing at Press.",
            Misfit.Refuse([At("P1", "Press"), At("P2", "Clean"), At("P3", "Clean")], 5).Text
        );

    [Fact]
    public void Refuse_All_SaysNone() =>
        Assert.Equal("None of 2 pieces fits: 2 standing at Clean.", Misfit.Refuse([At("P1", "Clean"), At("P2", "Clean")], 2).Text);
}

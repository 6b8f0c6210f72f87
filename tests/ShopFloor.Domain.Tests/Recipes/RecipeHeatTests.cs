using ShopFloor.Domain.Heat;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stock;

namespace ShopFloor.Domain.Tests.Recipes;

/// <summary>What a recipe may ask of ovens and presses is what a piece can be fitted to: no recipe is saved by which nothing can be booked.</summary>
public sealed class RecipeHeatTests
{
    [Theory]
    [InlineData(StepKind.Cure, 60)]
    [InlineData(StepKind.Cure, 300)]
    [InlineData(StepKind.Press, 100)]
    [InlineData(StepKind.Press, 260)]
    public void Faults_TemperatureWithinTheLimits_NoneAndAPieceFits(StepKind kind, int celsius)
    {
        var steps = Changed(kind, s => s with { Celsius = celsius });
        Assert.Empty(RecipeRules.Faults(steps));
        var fitted = Fitted(steps);
        Assert.True(fitted.IsOk, string.Join(' ', fitted.Refusals.Select(r => r.Text)));
    }

    [Theory]
    [InlineData(StepKind.Cure, 59.9, "from 60 to 300 °C")]
    [InlineData(StepKind.Cure, 300.1, "from 60 to 300 °C")]
    [InlineData(StepKind.Press, 99.9, "from 100 to 260 °C")]
    [InlineData(StepKind.Press, 260.1, "from 100 to 260 °C")]
    public void Faults_TemperatureOutsideTheLimits_AreSaidAtItsField(StepKind kind, double celsius, string limits)
    {
        var steps = Changed(kind, s => s with { Celsius = (decimal)celsius });
        var fault = Assert.Single(RecipeRules.Faults(steps));
        Assert.Equal($"step-{steps.First(s => s.Kind == kind).Number}-heat", fault.Field);
        Assert.EndsWith($"{limits}.", fault.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Faults_NoTemperature_IsSaid() =>
        Assert.Equal("step-temperature", Assert.Single(RecipeRules.Faults(Changed(StepKind.Cure, s => s with { Celsius = null }))).Code);

    [Theory]
    [InlineData(1, 36_000, true)]
    [InlineData(0, 1200, false)]
    [InlineData(900, 36_001, false)]
    public void Faults_TimesInTheOven_AreSoundWhereAPieceFits(int min, int max, bool sound)
    {
        var steps = Changed(StepKind.Cure, s => s with { MinSeconds = min, MaxSeconds = max });
        Assert.Equal(sound, RecipeRules.Faults(steps).Count == 0);
        if (sound)
            Assert.True(Fitted(steps).IsOk);
    }

    private static List<RecipeStep> Changed(StepKind kind, Func<RecipeStep, RecipeStep> change)
    {
        var shipped = ShippedRecipes.All.First(r => r.Finish == Finish.ShowThrough).Steps;
        return [.. shipped.Select(s => s.Kind == kind ? change(s) : s)];
    }

    private static Result<IReadOnlyList<FittedStep>> Fitted(IReadOnlyList<RecipeStep> steps)
    {
        var sheet = ShippedMaterials.All.First(m => m.Key == "al");
        var recipe = Recipe.Create(
            new RecipeId(Guid.Empty),
            "Show-through",
            1,
            Finish.ShowThrough,
            "",
            DateTimeOffset.UnixEpoch,
            ("al", Length.FromMillimetres(1)),
            steps
        );
        var piece = new PieceDescription
        {
            Material = "al",
            Width = Length.FromMillimetres(100),
            Height = Length.FromMillimetres(60),
            Thickness = Length.FromMillimetres(4),
        };
        var coating = new CoatingSettings
        {
            VolumeSolidsPercent = 25,
            DryFilmMicrometres = 20,
            TransferEfficiency = 0.5m,
            OversprayMarginMillimetres = 30,
        };
        var coatings = Enum.GetValues<CoatingKind>().ToDictionary(k => k, _ => coating);
        return FittedRecipe.Explained(recipe.Value, piece, new FittingWorkshop(sheet, sheet, [OvenSettings.Default], 21, coatings));
    }
}

using ShopFloor.Domain.Heat;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stock;

namespace ShopFloor.Domain.Tests.Recipes;

/// <summary>A piece that may go under several presses has one time, which suits all of them.</summary>
public sealed class SeveralPressesTests
{
    private static readonly PlatenSettings Usual = PlatenSettings.Default;

    private static readonly PlatenSettings Slow = PlatenSettings.Default with { ContactWM2K = 500 };

    private static readonly PlatenSettings Odd = PlatenSettings.Default with { ContactWM2K = 80 };

    [Fact]
    public void Press_OneOfWhichNoTimeCanBeTold_IsPassedOver()
    {
        var alone = Pressed(Usual).Value;
        PlatenSettings[][] orders =
        [
            [Odd, Usual],
            [Usual, Odd],
        ];
        foreach (var presses in orders)
        {
            var both = Pressed(presses);
            Assert.True(both.IsOk, string.Join(' ', both.Refusals.Select(r => r.Text)));
            Assert.Equal(alone, both.Value);
        }
        Assert.Equal("press-settings-odd", Assert.Single(Pressed(Odd).Refusals).Code);
        Assert.False(Pressed(Odd, Odd).IsOk);
    }

    [Fact]
    public void Press_TheShortestTime_IsOfTheSlowestAndTheLongestOfTheQuickest()
    {
        var (quick, slow) = (Pressed(Usual).Value, Pressed(Slow).Value);
        Assert.True(slow.Min > quick.Min && slow.Max > quick.Max);
        var both = (slow.Min, Max: Math.Max(slow.Min, quick.Max));
        Assert.True(both.Max < slow.Max);
        Assert.Equal(both, Pressed(Usual, Slow).Value);
        Assert.Equal(both, Pressed(Slow, Usual).Value);
    }

    private static Result<(int Min, int Max)> Pressed(params PlatenSettings[] presses)
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
            ShippedRecipes.All.First(r => r.Finish == Finish.ShowThrough).Steps
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
        var shop = new FittingWorkshop(sheet, sheet, [OvenSettings.Default], 21, coatings) { Presses = presses };
        return FittedRecipe
            .Explained(recipe.Value, piece, shop)
            .Then(steps =>
            {
                var press = steps.Last(s => s.Step.Kind == StepKind.Press).Step;
                return Result<(int Min, int Max)>.Ok((press.MinSeconds, press.MaxSeconds!.Value));
            });
    }
}

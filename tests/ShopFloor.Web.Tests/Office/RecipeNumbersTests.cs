using ShopFloor.Web.Office.Recipes;
using ShopFloor.Web.Tests.Bench;

namespace ShopFloor.Web.Tests.Office;

public sealed class RecipeNumbersTests
{
    [Fact]
    public async Task Parts_EveryShippedRecipe_EachNumberOnceInTheRowOfItsStep()
    {
        await using var bench = await BenchShop.OpenAsync(1);
        var recipes = await bench.Shop.Get<RecipeListView>().LoadAsync();

        foreach (var steps in recipes.Select(r => r.Steps))
        {
            var numbers = RecipeNumbers.Of(steps);
            var parts = RecipeNumbers.Parts(steps).ToList();

            Assert.Equal(steps, parts.Select(p => p.Step));
            Assert.Equal(numbers, parts.SelectMany(p => numbers.Take(p.Part)));
            foreach (var (step, part) in parts)
                Assert.All(numbers.Take(part), n => Assert.StartsWith($"{RecipeNumbers.Title(step)}, ", n.Label, StringComparison.Ordinal));
        }
    }

    [Theory]
    [InlineData(45, "")]
    [InlineData(60, "1 min")]
    [InlineData(150, "2 min 30 s")]
    [InlineData(2400, "40 min")]
    [InlineData(7200, "2 h")]
    public void Long_Seconds_AreSaidBackAsPeopleSayThem(int seconds, string said) => Assert.Equal(said, RecipeNumbers.Long(seconds));

    [Fact]
    public async Task Short_LabelOfAStep_IsItWithoutTheStep()
    {
        await using var bench = await BenchShop.OpenAsync(1);
        var steps = (await bench.Shop.Get<RecipeListView>().LoadAsync())[0].Steps;
        var (step, part) = RecipeNumbers.Parts(steps).First();

        Assert.Equal("Length", RecipeNumbers.Short(step, RecipeNumbers.Of(steps).Take(part).First().Label));
    }
}

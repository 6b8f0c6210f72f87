using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Plans;

/// <summary>A short flash-off fits no closed oven: the plan makes it longer, as far as the recipe allows.</summary>
public sealed class LongerFlashTests
{
    // The demo's oven of 60 l takes 900 mg, so a piece shall bring at most 90: 5 min · log2(1100 / 90) = 18.06 min, so 19; 1100 mg · 0.5^(19 / 5) = 78.97 mg.
    [Theory]
    [InlineData(1_100, 2_700, 0, 600 + (19 * 60), 79)]
    [InlineData(1_100, 900, 0, 900, 550)]
    [InlineData(1_100, 2_700, 1, 600, 900)]
    [InlineData(90, 2_700, 0, 600, 90)]
    public async Task Of_WetCoats_RestUntilSomeFitIntoOneLoad(int milligrams, int most, int done, int least, int left)
    {
        await using var shop = await ShopOrders.DemoAsync();
        await using var context = await shop.ContextAsync();
        var snapshot = await ShopSnapshot.ReadAsync(context, shop.Clock.GetUtcNow(), default);
        Step[] route =
        [
            new(StepKind.Rest) { MinS = 600, MaxS = most },
            new(StepKind.Cure)
            {
                MinS = 900,
                MaxS = 1_200,
                VapourMg = milligrams,
            },
        ];

        var fitted = LongerFlash.Of(route, done, snapshot);

        Assert.Equal((least, most, left), (fitted[0].MinS, fitted[0].MaxS, fitted[1].VapourMg));
    }
}

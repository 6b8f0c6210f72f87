using ShopFloor.Data;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Plans;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Plans;

/// <summary>The owner weighs what plans are judged by.</summary>
public sealed class ChangeWeightsTests
{
    [Fact]
    public async Task Change_OwnWeights_AreWhatTheNextDayIsPlannedWith()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var asked = Asked.By(await shop.WorkerAsync(WorkerRole.Owner));
        var own = Weights.Default with { OvenLoads = 9_000, Shakes = 0 };

        Assert.True((await shop.Get<ChangeWeights>().RunAsync(asked, own)).IsOk);

        Assert.Equal(own, (await shop.Get<SettingsView>().LoadAsync()).Weights);
        await using var context = await shop.ContextAsync();
        var day = DayFromShop.Make(await ShopSnapshot.ReadPromisedAsync(context, shop.Clock.GetUtcNow(), default));
        Assert.Equal(own, day.Weights);
        var parts = DayPlanner.First(day).Objective.Parts;
        Assert.Equal(9_000, parts.Single(p => p.Name == "oven_loads") is { Amount: > 0 } loads ? loads.Points / loads.Amount : 0);
        Assert.Equal(0, parts.Single(p => p.Name == "shakes").Points);
    }

    [Fact]
    public async Task Change_ImpossibleWeights_AreNamedAtTheirFields()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var asked = Asked.By(await shop.WorkerAsync(WorkerRole.Owner));
        var wrong = Weights.Default with { LeftOut = 0, LateS = -1, Changed = WeightNumbers.Most + 1 };
        var refused = await shop.Get<ChangeWeights>().RunAsync(asked, wrong);
        Assert.Equal(
            [nameof(Weights.Changed), nameof(Weights.LateS), nameof(Weights.LeftOut)],
            refused.Refusals.Select(r => r.Field).Order(StringComparer.Ordinal)
        );
        Assert.Equal(Weights.Default, (await shop.Get<SettingsView>().LoadAsync()).Weights);
    }

    [Fact]
    public async Task Change_ByTheBench_IsRefused()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var refused = await shop.Get<ChangeWeights>().RunAsync(Asked.By(await shop.WorkerAsync(WorkerRole.Bench)), Weights.Default);
        Assert.False(refused.IsOk);
    }

    [Theory]
    [InlineData("2.5")]
    [InlineData("ten")]
    [InlineData("")]
    public void Read_NoWholeNumber_IsNamedAtItsField(string typed)
    {
        var entries = new NumberEntries<Weights>(WeightNumbers.All, Weights.Default) { [nameof(Weights.Shakes)] = typed };
        Assert.Equal(nameof(Weights.Shakes), Assert.Single(entries.Read().Refusals).Field);
    }

    /// <summary>Each part of the objective has its field, and each field changes its own part only.</summary>
    [Fact]
    public void All_Fields_AreThePartsOfTheObjectiveInTheirOrder()
    {
        Assert.Equal(Objective.Names.Select(WeightNumbers.Words), WeightNumbers.All.Select(n => n.Label));
        var numbered = WeightNumbers.All.Select((n, i) => (n, i)).Aggregate(Weights.Default, (w, x) => x.n.With(w, x.i));
        Assert.Equal(new Weights(0, 1, 2, 3, 4, 5, 6, 7, 8, 9), numbered);
    }
}

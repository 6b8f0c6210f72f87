using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Plans;

/// <summary>Where a plan would give a piece up, its day is made with the waits that run whole.</summary>
public sealed class RunningWaitTests
{
    [Fact]
    public async Task Make_WaitsThatRunMayBeUsed_HasTheirTrueLengthAndTheReserveOfTheOthers()
    {
        await using var shop = await ShopOrders.DemoAsync();
        await using var context = await shop.ContextAsync();
        var snapshot = await ShopSnapshot.ReadAsync(context, shop.Clock.GetUtcNow(), default);
        var (kept, used) = (DayFromShop.Make(snapshot), DayFromShop.Make(snapshot, usesRunning: true));
        var longer = new List<(Piece Piece, int Step)>();
        foreach (var (before, after) in kept.Pieces.Zip(used.Pieces))
            for (var i = 0; i < before.Route.Count; i++)
                if (before.Route[i] != after.Route[i])
                    longer.Add((after, i));
        Assert.NotEmpty(longer);
        Assert.All(
            longer,
            l =>
            {
                var (step, was) = (l.Piece.Route[l.Step], kept.Pieces.Single(p => p.Id == l.Piece.Id).Route[l.Step]);
                Assert.True((step.MaxS ?? step.MaxWaitS) > (was.MaxS ?? was.MaxWaitS));
                Assert.Equal(step.Kind == StepKind.Rest ? l.Piece.Done : l.Piece.Done - 1, l.Step);
            }
        );
    }
}

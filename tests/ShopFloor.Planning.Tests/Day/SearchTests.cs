using ShopFloor.Planning.DayPlans;

namespace ShopFloor.Planning.Tests.Day;

/// <summary>What a search hands over of its rounds.</summary>
public sealed class SearchTests
{
    /// <summary>Whoever asked for seconds got plans that no number of rounds gives again: a round that was broken off handed over what it had met.</summary>
    [Fact]
    public void Round_UntilItCounts_HandsNothingOver()
    {
        var room = new Workroom(DayMaker.Make(4, 3));
        var first = room.First(out var cost);
        var chain = new Chain(room, first, cost, 7, 24);
        for (var round = 0; round < 3; round++)
        {
            chain.Round(round, false, 200, CancellationToken.None);
            Assert.Equal(round, chain.Elite.Kept.Count);
            chain.Keep();
            Assert.Equal(round + 1, chain.Elite.Kept.Count);
        }
    }
}

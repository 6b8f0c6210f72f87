using ShopFloor.Planning.Layout;

namespace ShopFloor.Planning.Tests.Layout;

public sealed class FewestSurfacesTests
{
    [Theory]
    [InlineData(1, 0, 0)]
    [InlineData(2, 3, 2)]
    [InlineData(3, 0, 5)]
    [InlineData(4, 7, 0)]
    public void Improve_SeededPieces_EveryPieceOnceWithinMarginAndGap(ulong seed, int margin, int gap)
    {
        var random = new SeededRandom(seed);
        var pieces = RandomPieces.Make(random, 60, 80);
        var task = LayoutTask.Create([new Surface(150, 120, 4)], new(margin, gap), pieces);
        var search = new FewestSurfaces(task, 0, 1);
        var first = search.Count;
        search.Improve(50_000, CancellationToken.None);

        RandomPieces.AssertHolds(task, search.Places, _ => task.Surfaces[0]);
        Assert.Equal(pieces.Length, search.Places.Count);
        Assert.InRange(search.Count, search.Bound, first);
    }

    [Theory]
    [InlineData(11)]
    [InlineData(12)]
    [InlineData(13)]
    public void Improve_SmallSets_BoundNeverAboveAndAnswerNeverBelowTheOptimum(ulong seed)
    {
        var random = new SeededRandom(seed);
        for (var trial = 0; trial < 40; trial++)
        {
            var pieces = RandomPieces.Make(random, 2 + random.Next(4), 5);
            var (width, depth) = (5 + random.Next(2), 5 + random.Next(2));
            var task = LayoutTask.Create([new Surface(width, depth)], default, pieces);
            var search = new FewestSurfaces(task, 0, 1);
            search.Improve(2000, CancellationToken.None);
            var optimum = RandomPieces.FewestByTrying(pieces, width, depth);

            Assert.True(search.Bound <= optimum, $"trial {trial}: bound {search.Bound} above {optimum}");
            Assert.Equal(optimum, search.Count);
        }
    }

    [Fact]
    public void Improve_SameSeed_SameAnswerWhateverTheOrderOfTheInput()
    {
        var pieces = RandomPieces.Make(new SeededRandom(5), 40, 70);
        var straight = Lay(pieces);
        var again = Lay(pieces);
        var reversed = Lay([.. pieces.Reverse()]);

        Assert.Equal(straight, again);
        Assert.Equal(straight, reversed);

        static (string, int, int, int, bool)[] Lay(Footprint[] pieces)
        {
            var task = LayoutTask.Create([new Surface(100, 100, 9)], new(1, 1), pieces);
            var search = new FewestSurfaces(task, 0, 3);
            search.Improve(30_000, CancellationToken.None);
            return
            [
                .. search
                    .Places.Select(p => (pieces[p.Piece].Id, p.Surface, p.X, p.Y, p.Turned))
                    .OrderBy(p => p.Id, StringComparer.Ordinal),
            ];
        }
    }

    [Fact]
    public void Improve_StepsInParts_SameAsAtOnce()
    {
        var pieces = RandomPieces.Make(new SeededRandom(8), 40, 60);
        var task = LayoutTask.Create([new Surface(100, 100, 9)], default, pieces);
        var (atOnce, inParts) = (new FewestSurfaces(task, 0, 3), new FewestSurfaces(task, 0, 3));
        atOnce.Improve(0, CancellationToken.None);
        Assert.Equal(atOnce.Places, inParts.Places);
        using var cancelled = new CancellationTokenSource();
        cancelled.Cancel();
        inParts.Improve(1_000_000, cancelled.Token);
        Assert.Equal(atOnce.Places, inParts.Places);
    }

    [Fact]
    public void Count_LargePieces_BoundSeesThatNoTwoLieTogether()
    {
        // Six pieces of 6 x 6 on 10 x 10: by area three surfaces would do, yet no two fit on one.
        var pieces = Enumerable.Range(0, 6).Select(i => new Footprint($"p{i}", 6, 6, 0, true)).ToArray();
        var search = new FewestSurfaces(LayoutTask.Create([new Surface(10, 10)], default, pieces), 0, 1);
        Assert.Equal(6, search.Bound);
        Assert.Equal(6, search.Count);
    }
}

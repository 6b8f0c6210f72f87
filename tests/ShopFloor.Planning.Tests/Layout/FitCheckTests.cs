using ShopFloor.Planning.Layout;

namespace ShopFloor.Planning.Tests.Layout;

public sealed class FitCheckTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void TryPlace_SeveralShelves_PlacesHoldAndRespectClearHeights(ulong seed)
    {
        var random = new SeededRandom(seed);
        var pieces = RandomPieces.Make(random, 40, 95);
        Surface[] shelves = [new(200, 150, 4), new(120, 150, 2), new(200, 100, 1)];
        var task = LayoutTask.Create(shelves, new(4, 3), pieces, [new(0, 10, 10, 50, 40), new(2, 150, 60, 50, 40)]);
        var check = new FitCheck(task);
        var placed = 0;
        for (var n = 1; n <= pieces.Length; n++)
        {
            var set = Enumerable.Range(0, n).ToArray();
            var places = check.TryPlace(set);
            Assert.Equal(places is not null, check.Fits(set));
            if (places is null)
                continue;
            placed = n;
            Assert.Equal(n, places.Count);
            RandomPieces.AssertHolds(task, places, s => shelves[s]);
            foreach (var p in places)
            foreach (var o in task.Occupied.Where(o => o.Surface == p.Surface))
                Assert.True(RandomPieces.Apart(RandomPieces.Box(task, p), (o.X, o.Y, o.Width, o.Depth), task.Spacing.Gap));
        }
        Assert.InRange(placed, 5, 39);
    }

    [Fact]
    public void Fits_SmallSets_AgreesWithTryingEverything()
    {
        var random = new SeededRandom(21);
        for (var trial = 0; trial < 150; trial++)
        {
            var pieces = RandomPieces.Make(random, 3 + random.Next(4), 4);
            var task = LayoutTask.Create([new Surface(6, 5)], default, pieces);
            var set = Enumerable.Range(0, pieces.Length).ToArray();
            Assert.Equal(RandomPieces.FitsByTrying(pieces, 6, 5), new FitCheck(task).Fits(set));
        }
    }

    [Fact]
    public void Search_SmallSetsOnTwoSurfaces_ProofAgreesWithTryingEverything()
    {
        var random = new SeededRandom(22);
        for (var trial = 0; trial < 60; trial++)
        {
            var pieces = RandomPieces.Make(random, 4 + random.Next(2), 4);
            var task = LayoutTask.Create([new Surface(5, 4)], default, pieces);
            var all = Enumerable.Range(0, pieces.Length).ToArray();
            var answer = ExactFit.Search(task, all, [0, 0], 1_000_000, out var places);
            var expected = RandomPieces.FewestByTrying(pieces, 5, 4) <= 2 ? ExactAnswer.Fits : ExactAnswer.DoesNotFit;
            Assert.Equal(expected, answer);
            if (answer is ExactAnswer.Fits)
                RandomPieces.AssertHolds(task, places, _ => task.Surfaces[0]);
        }
    }

    [Fact]
    public void Fits_AnyOrderOfQuestionsAndPieces_SameAnswer()
    {
        var random = new SeededRandom(4);
        var pieces = RandomPieces.Make(random, 30, 100);
        var task = LayoutTask.Create([new Surface(200, 200, 9)], new(0, 2), pieces);
        var (one, other) = (new FitCheck(task), new FitCheck(task));
        var sets = Enumerable.Range(0, 60).Select(_ => Enumerable.Range(0, 30).Where(_ => random.Next(2) == 0).ToArray()).ToArray();
        var answers = sets.Select(s => one.Fits(s)).ToArray();
        var backwards = sets.Reverse().Select(s => other.Fits([.. s.Reverse()])).Reverse().ToArray();
        Assert.Equal(answers, backwards);
        Assert.Contains(true, answers);
        Assert.Contains(false, answers);
    }

    [Fact]
    public void Fits_OtherPiecesOfEqualExtents_SameAnswerAndSamePlaces()
    {
        var random = new SeededRandom(5);
        var pieces = RandomPieces.Make(random, 30, 100);
        Footprint[] twins = [.. pieces, .. pieces.Select(p => p with { Id = "twin " + p.Id })];
        var task = LayoutTask.Create([new Surface(200, 200, 9)], new(0, 2), twins);
        for (var trial = 0; trial < 40; trial++)
        {
            var set = Enumerable.Range(0, 30).Where(_ => random.Next(2) == 0).ToArray();
            int[] mixed = [.. set.Select(i => random.Next(2) == 0 ? i : i + 30)];
            Assert.Equal(new FitCheck(task).Fits(set), new FitCheck(task).Fits(mixed));
            var (one, other) = (new FitCheck(task).TryPlace(set), new FitCheck(task).TryPlace(mixed));
            Assert.Equal(Corners(one), Corners(other));
        }

        static IEnumerable<(int, int, int)>? Corners(IReadOnlyList<Place>? places) => places?.Select(p => (p.Surface, p.X, p.Y)).Order();
    }

    [Fact]
    public void Fits_AnswersSharedWithOtherPiecesOfAnotherTask_AsWithoutThem()
    {
        var random = new SeededRandom(8);
        var pieces = RandomPieces.Make(random, 30, 100);
        var task = LayoutTask.Create([new Surface(200, 200, 9)], new(0, 2), pieces);
        var other = LayoutTask.Create(
            [new Surface(200, 200, 9)],
            new(0, 2),
            [.. pieces.Reverse().Select(p => p with { Id = "other " + p.Id })]
        );
        var answers = new FitAnswers();
        var (first, second) = (new FitCheck(task, 400, answers), new FitCheck(other, 400, answers));
        for (var trial = 0; trial < 60; trial++)
        {
            var set = Enumerable.Range(0, 30).Where(_ => random.Next(2) == 0).ToArray();
            first.Fits(set);
            Assert.Equal(new FitCheck(task, 400).Fits(set), second.Fits([.. set.Select(i => 29 - i)]));
        }
    }

    [Fact]
    public void TakesRoomOf_WhereTheLargerFits_TheOtherFitsInItsPlace()
    {
        var random = new SeededRandom(23);
        var (pairs, fitting) = (0, 0);
        for (var trial = 0; trial < 400; trial++)
        {
            Footprint[] pieces =
            [
                .. Enumerable
                    .Range(0, 5)
                    .Select(i => new Footprint($"p{i}", 1 + random.Next(4), 1 + random.Next(4), 1 + random.Next(2), random.Next(2) == 0)),
            ];
            var check = new FitCheck(LayoutTask.Create([new Surface(6, 5, 1), new Surface(4, 4, 2)], default, pieces), 100_000);
            if (!check.TakesRoomOf(3, 4))
                continue;
            pairs++;
            if (!check.Fits([0, 1, 2, 3]))
                continue;
            fitting++;
            Assert.True(check.Fits([0, 1, 2, 4]), string.Join(", ", pieces.Select(p => p.ToString())));
        }
        Assert.InRange(pairs, 60, 340);
        Assert.InRange(fitting, 20, pairs - 20);
    }

    [Fact]
    public void FitsAtOnce_Yes_IsNeverWrong()
    {
        var random = new SeededRandom(6);
        var pieces = RandomPieces.Make(random, 30, 100);
        var check = new FitCheck(LayoutTask.Create([new Surface(200, 200, 9)], new(0, 2), pieces));
        for (var trial = 0; trial < 60; trial++)
        {
            var set = Enumerable.Range(0, 30).Where(_ => random.Next(2) == 0).ToArray();
            if (check.FitsAtOnce(set))
                Assert.True(check.Fits(set));
        }
    }

    [Fact]
    public void TryPlace_AlikePieces_LieInStraightRows()
    {
        var pieces = Enumerable.Range(0, 12).Select(i => new Footprint($"p{i:D2}", 50, 80, 3, true)).ToArray();
        var task = LayoutTask.Create([new Surface(300, 400, 10)], new(10, 5), pieces);
        var places = new FitCheck(task).TryPlace(Enumerable.Range(0, 12).ToArray());
        Assert.NotNull(places);
        RandomPieces.AssertHolds(task, places, _ => task.Surfaces[0]);
        Assert.True(
            places.Select(p => p.Y).Distinct().Count() * places.Select(p => p.X).Distinct().Count() <= 16,
            "twelve alike pieces need no more than a grid's rows and columns"
        );
    }

    [Theory]
    [InlineData(0, "larger than every surface")]
    [InlineData(1, "too high")]
    [InlineData(2, "above zero")]
    public void Faults_PieceThatCannotLie_IsNamedWithTheReasonAndTheRestIsLaid(int which, string reason)
    {
        Footprint[] pieces =
        [
            which switch
            {
                0 => new("bad", 200, 200, 1, true),
                1 => new("bad", 50, 50, 99, true),
                _ => new("bad", 0, 50, 1, true),
            },
            new("good", 50, 50, 1, true),
        ];
        var task = LayoutTask.Create([new Surface(100, 100, 10)], default, pieces);
        var fault = Assert.Single(task.Faults);
        Assert.Equal("bad", fault.Subject);
        Assert.Contains(reason, fault.Text, StringComparison.Ordinal);
        Assert.Single(new FewestSurfaces(task, 0, 1).Places);
        Assert.False(new FitCheck(task).Fits([0]));
    }

    [Fact]
    public void Faults_SurfaceEatenByItsMargins_IsNamed()
    {
        var task = LayoutTask.Create([new Surface(20, 100)], new(10, 0), [new("p", 5, 5, 0, true)]);
        Assert.Contains(task.Faults, f => f.Subject == "surface 1");
        Assert.Contains(task.Faults, f => f.Subject == "p");
    }
}

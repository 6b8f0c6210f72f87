using System.Text;
using ShopFloor.Planning.Checking;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopDay = ShopFloor.Planning.Exchange.Day;

namespace ShopFloor.Planning.Tests.Day;

/// <summary>Round pieces are pressed one by one round a wrap press, all others under a flat one.</summary>
public sealed class RoundPieceTests
{
    [Theory]
    [InlineData(0)]
    [InlineData(2)]
    public void Plan_EveryFourthPieceRound_GoesToTheWrapPressAlone(int rounds)
    {
        var day = WithRound(DayMaker.Make(20, 3));
        var plan = DayPlanner.Plan(day, new PlanOptions { Rounds = rounds });
        Assert.Empty(PlanChecker.Check(day, plan));
        Assert.Empty(plan.LeftOut);
        var round = day.Pieces.Where(p => p.Round).Select(p => p.Id).ToHashSet();
        var sessions = plan.Batches.Where(b => b.Kind == BatchKinds.Session).ToDictionary(b => b.Id);
        var wrapped = plan.Tasks.Where(t => t is { Station: "wrap", Batch: not null }).Select(t => sessions[t.Batch!]).ToList();
        Assert.Equal(round.Count, wrapped.Count);
        Assert.All(wrapped, b => Assert.Contains(Assert.Single(b.Places).Piece, round));
    }

    [Fact]
    public void Plan_WithoutAWrapPress_LeavesRoundPiecesOutAndSaysWhy()
    {
        var day = WithRound(DayMaker.Make(20, 3));
        day = day with { Stations = [.. day.Stations.Where(s => s.Id != "wrap")] };
        var plan = DayPlanner.First(day);
        Assert.Empty(PlanChecker.Check(day, plan));
        Assert.Equal(day.Pieces.Where(p => p.Round).Select(p => p.Id).Order(), plan.LeftOut.Select(l => l.Piece).Order());
        Assert.All(plan.LeftOut, l => Assert.Contains("No press takes a piece of the form", l.Text, StringComparison.Ordinal));
    }

    [Fact]
    public void Plan_WrapPressTooColdForRoundPieces_SaysThatItIsTheHeat()
    {
        var day = WithRound(DayMaker.Make(20, 3));
        var cold = day with
        {
            Stations =
            [
                .. day.Stations.Select(s => s is Press { Id: "wrap" } p ? p with { Heat = p.Heat with { HighestTenthsC = 1_000 } } : s),
            ],
        };
        var plan = DayPlanner.First(cold);
        Assert.Equal(day.Pieces.Where(p => p.Round).Select(p => p.Id).Order(), plan.LeftOut.Select(l => l.Piece).Order());
        Assert.All(plan.LeftOut, l => Assert.Matches("^No press for its form reaches the [0-9.]+ °C of step [0-9]+\\.$", l.Text));
        Assert.All(plan.LeftOut, l => Assert.Equal("no station", l.Reason));
    }

    [Theory]
    [InlineData(true, "kind-wrong")]
    [InlineData(false, "press-thickness")]
    public void Check_APieceThatDoesNotSuitItsPress_IsNamed(bool flat, string rule)
    {
        var day = WithRound(DayMaker.Make(8, 3));
        var plan = DayPlanner.First(day);
        var wrapped = day.Pieces.First(p => p.Round);
        Piece Changed(Piece p) =>
            p != wrapped ? p
            : flat ? p with { Round = false }
            : p;
        var other = day with
        {
            Pieces = [.. day.Pieces.Select(Changed)],
            Stations = [.. day.Stations.Select(s => s is Press { WrapsFromUm: not null } p && !flat ? p with { WrapsFromUm = 85_000 } : s)],
        };
        Assert.Contains(PlanChecker.Check(other, plan), f => f.Rule == rule && f.Pieces.Contains(wrapped.Id));
    }

    [Fact]
    public void Write_RoundPieceAndWrapPress_AreReadBackAndOthersStayAsTheyWere()
    {
        var plain = DayMaker.Make(4, 3);
        Assert.DoesNotContain("\"round\"", Encoding.UTF8.GetString(DayWriter.Write(plain)), StringComparison.Ordinal);
        Assert.DoesNotContain("wraps", Encoding.UTF8.GetString(DayWriter.Write(plain)), StringComparison.Ordinal);
        var bytes = DayWriter.Write(WithRound(plain));
        var read = DayReader.Read(bytes, "round").Value;
        Assert.Equal(bytes, DayWriter.Write(read));
        Assert.Equal((1, 1), (read.Pieces.Count(p => p.Round), read.Stations.Count(s => s is Press { WrapsFromUm: not null })));
    }

    private static ShopDay WithRound(ShopDay day)
    {
        var flat = day.Stations.OfType<Press>().First();
        var wrap = flat with
        {
            Id = "wrap",
            WidthUm = 90_000,
            DepthUm = 90_000,
            MarginUm = 0,
            GapUm = 90_000,
            ThickestUm = 60_000,
            ThicknessToleranceUm = 0,
            WrapsFromUm = 75_000,
        };
        return day with
        {
            Stations = [.. day.Stations, wrap],
            Pieces =
            [
                .. day.Pieces.Select(
                    (p, i) => i % 4 != 0 ? p : p with { Round = true, WidthUm = 80_000, DepthUm = 80_000, ThicknessUm = 50_000 }
                ),
            ],
        };
    }
}

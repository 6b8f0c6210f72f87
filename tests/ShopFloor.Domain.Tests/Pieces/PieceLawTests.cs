using CsCheck;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Domain.Tests.Pieces;

/// <summary>What holds for a piece whatever people do to it.</summary>
public sealed class PieceLawTests
{
    private static readonly Gen<(int Verb, int Step, int Wait)[]> Moves = Gen.Select(
        Gen.Int[0, 13],
        Gen.Int[1, 16],
        Gen.Int[0, 2000]
    ).Array[1, 60];

    [Fact]
    public void Replay_AnyMovesWithUndo_GivesTheSameStateAsHappening() =>
        Moves.Sample(
            moves =>
            {
                var way = new PieceOnItsWay();
                foreach (var (move, number) in moves.Select((m, i) => (m, i)))
                    Move(way, move, 10_000 + number);
                var again = new Piece(way.Piece.Id);
                again.Replay([.. way.Journal.Select(l => (l.Id, l.Event))]);
                Assert.Equal(PieceOnItsWay.Facts(way.Piece), PieceOnItsWay.Facts(again));
            },
            iter: 600
        );

    [Fact]
    public void Undo_AfterAnyAcceptedCommand_GivesTheStateBefore() =>
        Moves.Sample(
            moves =>
            {
                var way = new PieceOnItsWay();
                var number = 0;
                foreach (var move in moves)
                {
                    var before = PieceOnItsWay.Facts(way.Piece);
                    if (move.Verb == 13 || !Move(way, move, 10_000 + number++))
                        continue;
                    Assert.True(way.Undo());
                    Assert.Equal(before, PieceOnItsWay.Facts(way.Piece));
                    Move(way, move with { Wait = 0 }, 10_000 + number++);
                }
            },
            iter: 300
        );

    [Fact]
    public void Apply_AnyAcceptedMoves_KeepStepsInOrderAndAtMostOneAtWork() =>
        Moves.Sample(
            moves =>
            {
                var way = new PieceOnItsWay();
                foreach (var (move, number) in moves.Select((m, i) => (m, i)))
                {
                    Move(way, move, 10_000 + number);
                    var items = way.Piece.Items.OrderBy(i => i.Number).ToList();
                    Assert.True(items.Count(i => i.State == WorkState.Running && !i.Kind.IsRest()) <= 1);
                    Assert.True(items.Count(i => i.State == WorkState.Ready) <= 1);
                    // Everything before the next attended step is closed, but for the rest that runs before it.
                    var next = way.Piece.NextAttended?.Number ?? int.MaxValue;
                    Assert.DoesNotContain(items, i => i.Number < next - 1 && !i.IsClosed);
                }
            },
            iter: 400
        );

    [Fact]
    public void Next_EveryStateAndMove_IsInTheTableOrRefusedInWords()
    {
        foreach (var state in Enum.GetValues<PieceState>())
        foreach (var move in Enum.GetValues<PieceMove>())
        {
            var next = PieceTransitions.Next(state, move);
            Assert.Equal(PieceTransitions.Allows(state, move), next.IsOk);
            if (!next.IsOk)
                Assert.Contains(state.Words(), next.Refusals[0].Text, StringComparison.Ordinal);
        }
    }

    [Theory]
    [InlineData(PieceState.HandedOver)]
    [InlineData(PieceState.Spoiled)]
    [InlineData(PieceState.Returned)]
    public void Allows_EndOfLife_Nothing(PieceState end) =>
        Assert.DoesNotContain(Enum.GetValues<PieceMove>(), move => PieceTransitions.Allows(end, move));

    [Fact]
    public void Allows_OrderCalledOff_OnlyToBeGivenBack() =>
        Assert.Equal([PieceMove.Return], Enum.GetValues<PieceMove>().Where(move => PieceTransitions.Allows(PieceState.GoingBack, move)));

    private static bool Move(PieceOnItsWay way, (int Verb, int Step, int Wait) move, int command)
    {
        way.Wait(move.Wait);
        var (piece, id, at) = (way.Piece, PieceOnItsWay.Id(command), way.Now);
        var next = piece.NextAttended?.Number ?? move.Step;
        return move.Verb switch
        {
            0 => way.Try(id, piece.Receive(at)),
            1 or 2 => way.Try(id, piece.Start(next, at, decision: "judged by eye")),
            3 or 4 => way.Try(id, piece.Finish(next, at, "read off", "judged by eye")),
            5 => way.Try(id, piece.Skip(next, at, "not needed")),
            6 => way.Try(id, piece.Hold("look at it", at)),
            7 => way.Try(id, piece.Release("fine", at)),
            8 => way.Try(id, piece.Rework(move.Step, "sand back", at)),
            9 => move.Step == 1 && way.Try(id, piece.Spoil("fell", at)),
            10 => way.Try(id, piece.Bind(null, "Ada", at)),
            11 => way.Try(id, piece.BreakOff(next, "power cut", at)),
            12 => way.Try(id, piece.Fault("run", "", at)),
            _ => way.Undo(),
        };
    }
}

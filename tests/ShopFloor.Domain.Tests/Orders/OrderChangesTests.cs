using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pictures;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Domain.Tests.Orders;

/// <summary>What may be put right in a booked order, and until when.</summary>
public sealed class OrderChangesTests
{
    private static readonly DateTimeOffset Now = new(2026, 3, 4, 9, 0, 0, TimeSpan.Zero);

    [Fact]
    public void Reword_ApprovedProof_WaitsAgain()
    {
        var order = Booked(2, ["Ana"]);
        order.AskForProof();
        Assert.True(order.JudgeProof(true, "by phone").IsOk);

        Assert.True(order.Reword(1, ["Anna"], []).IsOk);

        Assert.Equal(("Anna", ProofState.Waiting, ""), (order.Lines[0].Texts[0], order.Proof, order.ProofNote));
        Assert.Equal("proof-open", order.MayPrint().Refusals[0].Code);
    }

    /// <summary>Nothing is printed on an own piece before the customer has seen it, be it a picture or a text.</summary>
    [Theory]
    [InlineData(true, "Ana", false, ProofState.Waiting)]
    [InlineData(true, "Ana", true, ProofState.NotNeeded)]
    [InlineData(true, "", false, ProofState.NotNeeded)]
    [InlineData(false, "Ana", false, ProofState.NotNeeded)]
    public void AskForProofOfOwn_TextAlone_IsAskedAboutOnAnOwnPiece(bool own, string text, bool toCome, ProofState proof)
    {
        var order = Booked(1, []);
        order.Add(
            new OrderLine(new OrderLineId(Guid.CreateVersion7()), 2, 1, new PieceDescription { IsOwn = own }, Finish.WhiteGround)
            {
                Texts = text.Length == 0 ? [] : [text],
                Placement = PictureOnFace.Whole with { IsToCome = toCome },
            }
        );

        order.AskForProofOfOwn();

        Assert.Equal(proof, order.Proof);
        Assert.True(order.Reword(2, ["Anna"], []).IsOk);
        Assert.Equal(own && !toCome ? ProofState.Waiting : ProofState.NotNeeded, order.Proof);
    }

    [Fact]
    public void JudgeProof_JudgedAlready_IsTheWorkshopsToApproveOnly()
    {
        var order = Booked(2, ["Ana"]);
        order.AskForProof();
        Assert.True(order.JudgeProof(false, "larger").IsOk);
        Assert.Equal("proof-judged", order.JudgeProof(true, "no, as it is").Refusals[0].Code);
        Assert.Equal((ProofState.ChangeWanted, "larger"), (order.Proof, order.ProofNote));
        Assert.True(order.ApproveProof("spoken about").IsOk);
        Assert.Equal("proof-judged", order.ApproveProof("again").Refusals[0].Code);
    }

    [Fact]
    public void Illustrate_AnotherPicture_LiesWholeAndKeepsTheLetters()
    {
        var order = Booked(1, []);
        var cut = new PictureOnFace(new PictureCrop(0.2, 0.2, 0.5, 0.5), QuarterTurn.Left, PictureFit.Fit, 0.1, LightLetters: true);
        var first = new PictureId(Guid.CreateVersion7());
        var piece = new PieceDescription();
        order.Add(
            new OrderLine(new OrderLineId(Guid.CreateVersion7()), 2, 1, piece, Finish.WhiteGround) { Picture = first, Placement = cut }
        );
        var other = new PictureId(Guid.CreateVersion7());
        Assert.True(order.Illustrate(2, other, new Agreement("picture rights", "1", "en", Now, "owner")).IsOk);
        var (picture, placement) = (order.Lines[1].Picture!.Value, order.Lines[1].Placement);
        Assert.Equal((other, true), (picture, placement.LightLetters));
        // A tall picture on a wide face: all of it lies on the piece.
        var laid = PicturePlacement.From(placement.Choice(400, 1200, 100, 60, 2)).Value;
        Assert.Equal((laid.Picture.WidthMm, laid.Picture.HeightMm), (laid.Printed.WidthMm, laid.Printed.HeightMm));
    }

    [Fact]
    public void Lay_ThePictureAnew_KeepsLettersAndWaitsForApprovalWhereItWasJudged()
    {
        var order = Booked(1, [], told: [Agreement.CoarseTold(2)]);
        var (first, piece) = (new PictureId(Guid.CreateVersion7()), new PieceDescription());
        var seen = PictureOnFace.Seen with { LightLetters = true };
        order.Add(
            new OrderLine(new OrderLineId(Guid.CreateVersion7()), 2, 1, piece, Finish.WhiteGround) { Picture = first, Placement = seen }
        );
        Assert.True(order.Lay(2, first, PictureOnFace.Seen).IsOk);
        Assert.Equal((seen, ProofState.NotNeeded, 1), (order.Lines[1].Placement, order.Proof, order.Agreements.Count));
        order.AskForProof();
        Assert.True(order.ApproveProof("").IsOk);

        Assert.True(order.Lay(2, first, PictureOnFace.Whole).IsOk);

        Assert.Equal((PictureOnFace.Whole with { LightLetters = true }, ProofState.Waiting), (order.Lines[1].Placement, order.Proof));
        Assert.Empty(order.Agreements);
        Assert.Equal("picture-other", order.Lay(2, new PictureId(Guid.CreateVersion7()), seen).Refusals[0].Code);
        Assert.True(order.ApproveProof("").IsOk && order.Printed(Now).IsOk);
        Assert.Equal("printed", order.Lay(2, first, seen).Refusals[0].Code);
    }

    /// <summary>What the customer was told of a coarse picture says nothing of another one on the same line.</summary>
    [Theory]
    [InlineData("coarse picture, line 1", "coarse picture, line 2")]
    [InlineData("coarse picture, line 2", "coarse picture, line 1")]
    [InlineData("coarse picture", null)]
    public void Illustrate_AnotherPicture_IsNotThePictureThatTheCustomerWasToldOf(string told, string? other)
    {
        var order = Booked(1, [], told: [told, .. other is null ? Array.Empty<string>() : [other]]);
        order.Add(new OrderLine(new OrderLineId(Guid.CreateVersion7()), 2, 1, new PieceDescription(), Finish.WhiteGround));

        Assert.True(order.Illustrate(1, new PictureId(Guid.CreateVersion7()), new Agreement("picture rights", "1", "en", Now, "o")).IsOk);

        Assert.DoesNotContain(order.Agreements, a => a.IsCoarseTold(1));
        Assert.Single(order.Agreements, a => a.IsCoarseTold(2));
        Assert.Equal("picture rights", order.Agreements[^1].What);
    }

    [Theory]
    [InlineData(1, "question-closed")]
    [InlineData(2, "question-missing")]
    public void Answer_AnsweredOrNeverAsked_SaysWhich(int number, string code)
    {
        var order = Booked(1, []);
        Assert.True(order.Ask("Matt or glossy?", Now).IsOk);
        Assert.True(order.Answer(1, "Matt", Now).IsOk);
        Assert.Equal(code, order.Answer(number, "Glossy", Now).Refusals[0].Code);
    }

    [Fact]
    public void Reword_NothingToApprove_AsksForNoProof()
    {
        var order = Booked(2, []);
        Assert.True(order.Reword(1, ["one", "two"], []).IsOk);
        Assert.Equal(ProofState.NotNeeded, order.Proof);
    }

    [Fact]
    public void Reword_PrintedOrOffOrOnAPiece_IsRefused()
    {
        var (printed, off, bound) = (Booked(1, ["a"]), Booked(1, ["a"]), Booked(1, ["a"]));
        Assert.True(printed.Printed(Now).IsOk);
        off.Cancel(Now);
        var piece = new Piece(new PieceId(Guid.CreateVersion7()));
        piece.Apply(new PieceBooked(Now, "K7M2", bound.Id, bound.Lines[0].Id, 1, false, null, []));
        piece.Apply(new PictureBound(Now, null, "a"));

        Assert.Equal("printed", printed.Reword(1, ["b"], []).Refusals[0].Code);
        Assert.Equal("order-off", off.Reword(1, ["b"], []).Refusals[0].Code);
        Assert.Equal("text-used", bound.Reword(1, ["b"], [piece]).Refusals[0].Code);
        Assert.All([printed, off, bound], o => Assert.Equal("a", o.Lines[0].Texts[0]));
    }

    [Theory]
    [InlineData(2, "texts")]
    [InlineData(4, "texts")]
    public void Reword_CountThatDoesNotFit_IsRefused(int texts, string code)
    {
        var order = Booked(3, []);
        Assert.Equal(code, order.Reword(1, [.. Enumerable.Repeat("x", texts)], []).Refusals[0].Code);
        Assert.Equal("line-missing", order.Reword(2, [], []).Refusals[0].Code);
    }

    [Fact]
    public void Reach_NoWayToReach_IsRefusedBesideItsFieldAndElseTrimmed()
    {
        var order = Booked(1, []);
        Assert.Equal("email", order.Reach(new Contact("Ida", "", "")).Refusals[0].Field);
        Assert.True(order.Reach(new Contact(" Ida ", "", " 030 12345 ")).IsOk);
        Assert.Equal(new Contact("Ida", "", "030 12345"), order.Contact);
    }

    [Fact]
    public void Want_AnotherDayOrNone_IsKeptAndCounted()
    {
        var (order, day) = (Booked(1, []), new DateOnly(2026, 3, 9));
        var before = order.Version;
        Assert.True(order.Want(day).IsOk);
        Assert.Equal((day, before + 1), (order.Wanted, order.Version));
        Assert.True(order.Want(null).IsOk);
        Assert.Null(order.Wanted);
        order.Cancel(Now);
        Assert.Equal("order-off", order.Want(day).Refusals[0].Code);
    }

    [Fact]
    public void For_Fewer_TakesTheNewestThatWereNotBegun()
    {
        var pieces = Pieces(4);
        Begin(pieces[3]);
        var moves = LinePieces.For(4, pieces, 2).Value;
        Assert.Equal([3, 2], moves.Back.Select(p => p.Number));
        Assert.Equal("begun", LinePieces.For(4, pieces, 0).Refusals[0].Code);
        Assert.Equal(3, LinePieces.For(4, pieces, 1).Value.Back.Count);
    }

    [Fact]
    public void For_OwnPieceThatIsHere_HasToBeGivenBackFirst()
    {
        var pieces = Pieces(2, own: true);
        pieces[1].Apply(new PieceReceived(Now));
        Assert.Equal([1], LinePieces.For(2, pieces, 1).Value.Back.Select(p => p.Number));
        Assert.Equal("own-here", LinePieces.For(2, pieces, 0).Refusals[0].Code);
        pieces[1].Apply(new PieceReturned(Now, "not wanted"));
        Assert.Empty(LinePieces.For(2, pieces, 1).Value.Back);
    }

    [Fact]
    public void For_BlankThatIsHere_IsFreeUntilItIsBegun()
    {
        var pieces = Pieces(2);
        foreach (var piece in pieces)
            piece.Apply(new PieceReceived(Now));
        Assert.Equal([2], LinePieces.For(2, pieces, 1).Value.Back.Select(p => p.Number));
    }

    [Fact]
    public void For_More_FillsTheNumbersThatCameFreeAndCountsWhatIsMadeAnewOnce()
    {
        var pieces = Pieces(4);
        Assert.Equal([5, 6], LinePieces.For(4, pieces, 6).Value.New);
        pieces[1].Apply(new PieceReturned(Now, "not wanted"));
        Assert.Equal([2, 5], LinePieces.For(4, pieces, 5).Value.New);
        var (lost, another) = (Pieces(2), Pieces(3)[2]);
        lost[0].Apply(new PieceReceived(Now));
        lost[0].Apply(new PieceSpoiled(Now, "cracked"));
        Assert.Equal([3], LinePieces.For(2, lost, 3).Value.New);
        Assert.Equal([4], LinePieces.For(2, [.. lost, another], 3).Value.New);
    }

    [Fact]
    public void Resize_TextsThatDoNotFitTheStayingPieces_AreRefused()
    {
        var order = Booked(3, ["a", "b", "c"]);
        var pieces = Pieces(3);
        Begin(pieces[2]);
        var moves = LinePieces.For(3, pieces, 2).Value;
        Result<Done> Resize(params string[] texts) => order.Resize(1, new(2, texts, Price(20m), 6m), pieces, moves);
        Assert.Equal("texts", Resize("a", "b", "c").Refusals[0].Code);
        Assert.Equal("text-places", Resize("a", "b").Refusals[0].Code);
        Assert.True(Resize("all").IsOk);
    }

    [Fact]
    public void Resize_Printed_TakesNothingOnTopAndOnlyTextsOut()
    {
        var order = Booked(3, ["a", "b", "c"]);
        Assert.True(order.Printed(Now).IsOk);
        var pieces = Pieces(3);
        var (more, fewer) = (LinePieces.For(3, pieces, 4).Value, LinePieces.For(3, pieces, 2).Value);
        Assert.Equal("printed", order.Resize(1, new(4, ["a", "b", "c", "d"], Price(1m), 0m), pieces, more).Refusals[0].Code);
        Assert.Equal("text-used", order.Resize(1, new(2, ["a", "x"], Price(1m), 0m), pieces, fewer).Refusals[0].Code);
        Assert.True(order.Resize(1, new(2, ["a", "c"], Price(1m), 0m), pieces, fewer).IsOk);
    }

    [Fact]
    public void LeaveOut_OneOfTwo_TakesItsPriceAndShareOfTheDepositAndTheLastOneStays()
    {
        var order = Booked(2, [], deposit: 12m);
        order.Add(
            new OrderLine(new OrderLineId(Guid.CreateVersion7()), 2, 1, new PieceDescription(), Finish.WhiteGround) { Price = Price(10m) }
        );
        Assert.True(order.Resize(1, new(3, [], Price(30m), 9m), Pieces(2), LinePieces.For(2, Pieces(2), 3).Value).IsOk);
        Assert.Equal((40m, 13m), (order.Gross, order.Deposit));

        Assert.True(order.LeaveOut(1).IsOk);

        Assert.Equal((10m, 3.25m, 2), (order.Gross, order.Deposit, Assert.Single(order.Lines).Number));
        Assert.Equal((2, "last-line"), (order.AllLines.Count, order.LeaveOut(2).Refusals[0].Code));
        Assert.Equal("line-missing", order.Reword(1, [], []).Refusals[0].Code);
    }

    private static AgreedPrice Price(decimal gross) => new([], gross, 0, "E", gross, "", null);

    private static List<Piece> Pieces(int count, bool own = false)
    {
        var step = new RecipeStep(1, StepKind.Clean);
        Piece Of(int number)
        {
            var piece = new Piece(new PieceId(Guid.CreateVersion7()));
            piece.Apply(new PieceBooked(Now, $"K{number}", default, default, number, own, null, [step]));
            return piece;
        }
        return [.. Enumerable.Range(1, count).Select(Of)];
    }

    private static void Begin(Piece piece)
    {
        piece.Apply(new PieceReceived(Now));
        piece.Apply(piece.Start(1, Now).Value);
    }

    private static Order Booked(int quantity, IReadOnlyList<string> texts, decimal deposit = 0m, params IEnumerable<string> told)
    {
        var (id, customer) = (new OrderId(Guid.CreateVersion7()), new CustomerId(Guid.CreateVersion7()));
        var order = new Order(id, 1, customer, new Contact("Ida Sandberg", "ida@example.org", ""), "EUR", Now, "owner")
        {
            DepositAsked = deposit,
            Agreements = [.. told.Select(t => new Agreement(t, "1", "en", Now, "owner"))],
        };
        order.Add(
            new OrderLine(new OrderLineId(Guid.CreateVersion7()), 1, quantity, new PieceDescription(), Finish.WhiteGround)
            {
                Texts = texts,
                Price = Price(20m),
            }
        );
        return order;
    }
}

using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Domain.Tests.Orders;

/// <summary>Which text of its line is a piece's.</summary>
public sealed class PieceTextsTests
{
    private static readonly DateTimeOffset Now = new(2026, 3, 4, 9, 0, 0, TimeSpan.Zero);

    [Fact]
    public void Of_MadeAnew_GetsTheTextOfTheLostPiece()
    {
        var line = Line("Ada", "Bo", "Cy");
        Piece[] pieces = [Piece(1), Piece(2), Piece(3), Piece(4)];
        Spoil(pieces[1]);

        Assert.Equal(["Ada", null, "Cy", "Bo"], pieces.Select(p => PieceTexts.Of(line, p, pieces)));
        Assert.Equal(["Ada", "Bo", "Cy"], PieceTexts.Open(line, pieces[3], pieces));
    }

    [Fact]
    public void Of_OthersTookOtherPrints_GetsWhatIsLeft()
    {
        var line = Line("Ada", "Bo", "Ada");
        Piece[] pieces = [Piece(1), Piece(2), Piece(3), Piece(4)];
        pieces[0].Apply(new PictureBound(Now, null, "Bo"));
        Spoil(pieces[1]);
        pieces[2].Apply(new PictureBound(Now, null, "Ada"));
        pieces[2].Apply(new PieceHandedOver(Now));

        Assert.Equal("Ada", PieceTexts.Of(line, pieces[3], pieces));
        Assert.Equal(["Ada"], PieceTexts.Open(line, pieces[3], pieces));
        Assert.Equal("Bo", PieceTexts.Of(line, pieces[0], pieces));
    }

    [Fact]
    public void Of_OwnPiece_HasTheTextOfItsNumberAndNoOther()
    {
        var line = Line("Ada", "Bo");
        Piece[] pieces = [Piece(1, own: true), Piece(2, own: true), Piece(3, own: true)];

        Assert.Equal(["Ada", "Bo", null], pieces.Select(p => PieceTexts.Of(line, p, pieces)));
        Assert.Equal(["Bo"], PieceTexts.Open(line, pieces[1], pieces));
        Assert.Empty(PieceTexts.Open(line, pieces[2], pieces));
    }

    [Fact]
    public void Of_OneTextOrNone_IsThatOfAll()
    {
        Piece[] pieces = [Piece(1), Piece(2)];
        Assert.All(pieces, p => Assert.Equal("Ada", PieceTexts.Of(Line("Ada"), p, pieces)));
        Assert.All(pieces, p => Assert.Null(PieceTexts.Of(Line(), p, pieces)));
        Assert.All(pieces, p => Assert.Empty(PieceTexts.Open(Line("Ada"), p, pieces)));
    }

    private static OrderLine Line(params string[] texts) =>
        new(new OrderLineId(Guid.CreateVersion7()), 1, 3, new PieceDescription(), Finish.WhiteGround) { Texts = texts };

    private static Piece Piece(int number, bool own = false)
    {
        var piece = new Piece(new PieceId(Guid.CreateVersion7()));
        piece.Apply(new PieceBooked(Now, $"K{number}", default, default, number, own, null, []));
        return piece;
    }

    private static void Spoil(Piece piece)
    {
        piece.Apply(new PieceReceived(Now));
        piece.Apply(new PieceSpoiled(Now, "cracked"));
    }
}

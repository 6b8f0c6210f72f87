using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Domain.Tests.Invoicing;

/// <summary>Words that stand in databases stay as they are: rows from before would mean something else.</summary>
public sealed class KeptWordsTests
{
    [Fact]
    public void DocumentWords_EachKind_IsKeptAsItAlwaysWas() =>
        Assert.Equal(
            ["invoice", "part invoice", "deposit invoice", "credit note", "receipt"],
            Enum.GetValues<DocumentKind>().Select(DocumentWords.Of)
        );

    [Theory]
    [InlineData(Verdict.Take, "take", false)]
    [InlineData(Verdict.TestPiece, "test piece", true)]
    public void VerdictWords_OfABookedLine_SayWhetherItAsksForATest(Verdict verdict, string word, bool asks)
    {
        Assert.Equal(word, VerdictWords.Of(verdict));
        var line = new OrderLine(new OrderLineId(Guid.CreateVersion7()), 1, 1, new PieceDescription(), Finish.WhiteGround)
        {
            Verdict = word,
        };
        Assert.Equal(asks, line.AsksForTest);
    }
}

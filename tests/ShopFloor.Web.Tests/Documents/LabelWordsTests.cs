using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Bench.TestPieces;
using ShopFloor.Web.Documents;
using ShopFloor.Web.Tests.Bench;

namespace ShopFloor.Web.Tests.Documents;

/// <summary>What stands on a label about its piece.</summary>
public sealed class LabelWordsTests
{
    [Fact]
    public async Task Which_OfATestPiece_IsNoneOfThoseThatWereOrdered()
    {
        await using var shop = await BenchShop.OpenAsync(3);
        var test = BenchShop.Must(await shop.Shop.Get<MakeTestPiece>().RunAsync(shop.Ask(), new Target(shop.Code))).Codes[0];
        await using var context = await shop.Shop.ContextAsync();
        var work = await OpenWork.LoadAsync(context, shop.Shop.Clock.GetUtcNow(), null, default);

        var said = work.Pieces.OrderBy(p => p.Number).Select(p => LabelPapers.Which(work, p, work.LineOf(p)).Split(" · ")[1]);
        Assert.Equal(["1/3", "2/3", "3/3", "test piece"], said);
        Assert.True(work.Pieces.Single(p => p.Code == test).IsTest);
    }
}

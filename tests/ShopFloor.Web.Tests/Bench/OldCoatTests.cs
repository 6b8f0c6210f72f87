using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench.Reading;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>An old coat on a customer's piece is spoken of at the Bench, and a test of the material does not speak for it.</summary>
public sealed class OldCoatTests
{
    [Theory]
    [InlineData(Answer.No, false)]
    [InlineData(Answer.Yes, true)]
    [InlineData(Answer.Unknown, true)]
    public async Task Piece_WithAnOldCoat_SaysSoAndAsksForItsOwnTestBeforeItIsBegun(Answer said, bool isAsked)
    {
        await using var shop = await OpenAsync(said, isAsked);
        BenchShop.Must(await shop.ReceiveAsync());

        var sheet = await SheetAsync(shop);
        Assert.Equal(isAsked, sheet.OldCoat is not null);
        Assert.Equal(isAsked, sheet.Test?.IsWanted == true);
        Assert.Equal(isAsked, (await shop.StartAsync(1)).Refusals.Any(r => r.Code == "test-first"));
    }

    [Fact]
    public async Task OldCoat_OncePieceIsCleanedAndCoated_IsSpokenOfNoMore()
    {
        await using var shop = await OpenAsync(Answer.Yes, isAsked: true);
        await shop.WorkToAsync(StepKind.Clean);
        Assert.NotNull((await SheetAsync(shop)).OldCoat);
        await shop.WorkToAsync(StepKind.Spray);
        Assert.Null((await SheetAsync(shop)).OldCoat);
        await shop.WorkToAsync(StepKind.Cure);
        Assert.Null((await SheetAsync(shop)).OldCoat);
    }

    [Fact]
    public async Task Test_OfItsOwnLineCameOutWell_IsAskedForNoMore()
    {
        await using var shop = await OpenAsync(Answer.Yes, isAsked: true);
        BenchShop.Must(await shop.ReceiveAsync());
        var test = await TestPieceTests.WorkTestAsync(shop);
        Assert.True((await SheetAsync(shop)).Test is { IsWanted: true });
        BenchShop.Must(await TestPieceTests.JudgeAsync(shop, test, TestOutcome.Good, ""));
        Assert.True((await SheetAsync(shop)).Test is { IsWanted: false });
        BenchShop.Must(await shop.FinishAsync(1));
    }

    [Fact]
    public void OldCoat_SaidByTheBench_IsGermanToo()
    {
        var texts = new System.Resources.ResourceManager(typeof(ShopFloor.Web.Bench.BenchTexts));
        foreach (var said in new[] { Answer.Yes, Answer.Unknown })
            Assert.NotNull(texts.GetString(Cautioned.OldCoat(HiddenParts.None with { OldCoat = said })!, CultureInfo.GetCultureInfo("de")));
    }

    internal static async Task<BenchShop> OpenAsync(Answer said, bool isAsked)
    {
        var shop = await BenchShop.OpenAsync(quantity: 1, own: true);
        await using var context = await shop.Shop.ContextAsync();
        var line = (await context.Orders.SingleAsync()).AllLines.Single();
        var hidden = line.Piece.Hidden with { OldCoat = said };
        context.Entry(line).Property(l => l.Piece).CurrentValue = line.Piece with { Hidden = hidden };
        context.Entry(line).Property(l => l.Verdict).CurrentValue = isAsked ? "test piece" : "take";
        await context.SaveChangesAsync();
        return shop;
    }

    private static async Task<PieceSheet> SheetAsync(BenchShop shop) =>
        (await shop.Shop.Get<FindByCode>().ReadAsync(shop.Code)).Value.Pieces[0];
}

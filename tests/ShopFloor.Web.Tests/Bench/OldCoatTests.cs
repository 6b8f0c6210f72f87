using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain.Materials;
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
        await using var shop = await BenchShop.OpenAsync(quantity: 1, own: true);
        await using (var context = await shop.Shop.ContextAsync())
        {
            var line = (await context.Orders.SingleAsync()).AllLines.Single();
            var hidden = line.Piece.Hidden with { OldCoat = said };
            context.Entry(line).Property(l => l.Piece).CurrentValue = line.Piece with { Hidden = hidden };
            context.Entry(line).Property(l => l.Verdict).CurrentValue = isAsked ? "test piece" : "take";
            await context.SaveChangesAsync();
        }
        BenchShop.Must(await shop.ReceiveAsync());

        var sheet = (await shop.Shop.Get<FindByCode>().ReadAsync(shop.Code)).Value.Pieces[0];
        Assert.Equal(isAsked, sheet.OldCoat is not null);
        Assert.Equal(isAsked, sheet.Test?.IsWanted == true);
        Assert.Equal(isAsked, (await shop.StartAsync(1)).Refusals.Any(r => r.Code == "test-first"));
    }

    [Fact]
    public void OldCoat_SaidByTheBench_IsGermanToo()
    {
        var texts = new System.Resources.ResourceManager(typeof(ShopFloor.Web.Bench.BenchTexts));
        foreach (var said in new[] { Answer.Yes, Answer.Unknown })
            Assert.NotNull(texts.GetString(Cautioned.OldCoat(HiddenParts.None with { OldCoat = said })!, CultureInfo.GetCultureInfo("de")));
    }
}

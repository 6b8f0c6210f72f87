using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench.Tracing;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>From a bad can to all pieces it touched, and back.</summary>
public sealed class TraceTests
{
    [Fact]
    public async Task Read_FromPieceOverEachOfItsMakersAndBack_FindsTheSamePieces()
    {
        await using var shop = await BenchShop.OpenAsync(3);
        await shop.WorkToAsync(StepKind.Press);
        var codes = (await shop.PiecesAsync()).Select(p => p.Code).Order().ToList();
        var view = shop.Shop.Get<TraceView>();
        var piece = (await view.ReadAsync("piece", codes[0], withCustomers: false)).Value;
        Assert.Equal(["batch", "lot", "person", "recipe"], piece.Links.Select(l => l.Kind).Distinct().Order());
        foreach (var link in piece.Links)
        {
            var back = (await view.ReadAsync(link.Kind, link.Key, withCustomers: false)).Value;
            Assert.Equal(codes, back.Pieces.Select(p => p.Code).Order());
            Assert.All(back.Pieces, p => Assert.Equal("", p.Customer));
        }
        var owner = (await view.ReadAsync(piece.Links[0].Kind, piece.Links[0].Key, withCustomers: true)).Value;
        Assert.All(owner.Pieces, p => Assert.Equal("Somebody", p.Customer));
    }

    [Fact]
    public async Task Read_Piece_ShowsEveryEntryOfItsJournal()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        await shop.WorkToAsync(StepKind.Spray);
        var moves = (await shop.Shop.Get<TraceView>().ReadAsync("piece", shop.Code, withCustomers: false)).Value.Moves;
        await using var context = await shop.Shop.ContextAsync();
        Assert.Equal(await context.Journal.CountAsync(), moves.Count);
        Assert.Equal("Booked", moves[^1].What);
    }

    [Theory]
    [InlineData("lot", "none")]
    [InlineData("batch", "L-999")]
    [InlineData("person", "nobody")]
    [InlineData("recipe", "x")]
    [InlineData("else", "x")]
    public async Task Read_Unknown_IsRefused(string kind, string key)
    {
        await using var shop = await BenchShop.OpenAsync(1);
        Assert.False((await shop.Shop.Get<TraceView>().ReadAsync(kind, key, withCustomers: false)).IsOk);
    }
}

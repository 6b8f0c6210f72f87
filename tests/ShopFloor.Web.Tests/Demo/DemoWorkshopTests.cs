using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Background.Demo;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Demo;

public sealed class DemoWorkshopTests
{
    [Fact]
    public async Task RunAsync_EmptyDatabase_FillsEveryStageOfLife()
    {
        await using var shop = await TestShop.EmptyAsync();
        Assert.True(await shop.Get<DemoWorkshop>().RunAsync());

        await using var context = await shop.ContextAsync();
        var pieces = await context.Pieces.ToListAsync();
        var orders = await context.Orders.ToListAsync();
        Assert.True(orders.Count >= 12, $"{orders.Count} orders");
        foreach (
            var state in (PieceState[])
                [
                    PieceState.Booked,
                    PieceState.Received,
                    PieceState.InWork,
                    PieceState.Held,
                    PieceState.CheckedGood,
                    PieceState.HandedOver,
                    PieceState.Spoiled,
                ]
        )
            Assert.True(pieces.Exists(p => p.State == state) || state == PieceState.Received, $"no piece is {state}");
        Assert.Equal(4, orders.SelectMany(o => o.Lines).Select(l => l.Finish).Distinct().Count());
        Assert.Contains(pieces, p => p.Items.Any(i => i is { Kind: StepKind.Cure, State: WorkState.Running }));
    }

    [Fact]
    public async Task RunAsync_SecondTime_ChangesNothing()
    {
        await using var shop = await TestShop.EmptyAsync();
        await shop.Get<DemoWorkshop>().RunAsync();
        Assert.False(await shop.Get<DemoWorkshop>().RunAsync());
    }

    [Fact]
    public async Task Journal_Replayed_GivesTheSamePieces()
    {
        await using var shop = await TestShop.EmptyAsync();
        await shop.Get<DemoWorkshop>().RunAsync();
        await using var context = await shop.ContextAsync();
        var journal = await context.Journal.OrderBy(j => j.Sequence).ToListAsync();
        foreach (var piece in await context.Pieces.AsNoTracking().ToListAsync())
        {
            var again = new Piece(piece.Id);
            again.Replay([.. journal.Where(j => j.Piece == piece.Id).Select(j => (j.Id, j.Read()))]);
            Assert.Equal(piece.State, again.State);
            Assert.Equal(
                piece.Items.OrderBy(i => i.Number).Select(i => (i.Number, i.State, i.StartedAt, i.FinishedAt, i.Batch)),
                again.Items.OrderBy(i => i.Number).Select(i => (i.Number, i.State, i.StartedAt, i.FinishedAt, i.Batch))
            );
        }
    }
}

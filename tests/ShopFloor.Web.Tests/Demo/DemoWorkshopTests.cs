using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Background.Demo;
using ShopFloor.Web.Office.Insight;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.People;
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
    public async Task RunAsync_ReadyNotices_AreOfOrdersWhosePiecesAreAllReadyOrOver()
    {
        await using var shop = await TestShop.EmptyAsync();
        await shop.Get<DemoWorkshop>().RunAsync();
        await using var context = await shop.ContextAsync();
        var told = await context.Outbox.Select(m => m.Order!.Value).Distinct().ToListAsync();
        Assert.NotEmpty(told);
        var pieces = await context.Pieces.Where(p => told.Contains(p.Order)).ToListAsync();
        Assert.All(pieces, p => Assert.True(p.IsOver || p.State == PieceState.CheckedGood, $"{p.Code} is {p.State}"));
    }

    [Fact]
    public async Task RunAsync_WithBooks_HasALateInvoiceWithItsReminderAMonthBeforeAndSomebodyAway()
    {
        await using var shop = await TestShop.EmptyAsync();
        await shop.Get<DemoWorkshop>().RunAsync();
        await shop.Get<DemoBooks>().RunAsync();

        var late = (await shop.Get<InvoiceListView>().LoadAsync(null, InvoiceFilter.Overdue, null, 1)).Rows;
        Assert.Single(late);
        await using var context = await shop.ContextAsync();
        var letter = await context.Documents.AsNoTracking().SingleAsync(d => d.Kind == "reminder");
        Assert.Equal(late[0].Id, letter.Corrects);
        var insight = await shop.Get<InsightView>().LoadAsync(null);
        Assert.True(insight.Before.Money[InsightBy.Finish].Sum(r => r.Pieces) >= 3);
        Assert.True(insight.This.Money[InsightBy.Finish].Sum(r => r.Pieces) >= 1);
        Assert.NotEmpty((await shop.Get<PeopleView>().LoadAsync()).Absences);
        var numbers = await context.Documents.Where(d => d.Kind == "invoice").OrderBy(d => d.At).Select(d => d.Number).ToListAsync();
        Assert.Equal(numbers.Order(StringComparer.Ordinal), numbers);
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

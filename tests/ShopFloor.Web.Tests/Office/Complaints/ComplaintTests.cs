using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Office.Complaints;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Tests.Office.Invoices;

namespace ShopFloor.Web.Tests.Office.Complaints;

/// <summary>What comes back after it was handed over.</summary>
public sealed class ComplaintTests
{
    [Fact]
    public async Task Decide_EachWay_LeavesWhatItSays()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var (order, pieces) = await HandedOverAsync(shop);
        var open = shop.Shop.Get<OpenComplaint>();
        Assert.Equal("complaint-pieces", (await open.RunAsync(shop.Asked(), new ComplaintInput(order, [], "peels"))).Refusals[0].Code);
        Assert.Equal("complaint-words", (await open.RunAsync(shop.Asked(), new ComplaintInput(order, pieces, " "))).Refusals[0].Code);
        var elsewhere = new PieceId(Guid.CreateVersion7());
        Assert.Equal(
            "complaint-here",
            (await open.RunAsync(shop.Asked(), new ComplaintInput(order, [elsewhere], "peels"))).Refusals[0].Code
        );

        await OpenAsync(shop, order, pieces);
        Assert.Equal("complaint-twice", (await open.RunAsync(shop.Asked(), new ComplaintInput(order, pieces, "peels"))).Refusals[0].Code);
        Assert.Equal("complaint-reason", (await DecideAsync(shop, ComplaintAct.Refuse, "")).Refusals[0].Code);
        Assert.True((await DecideAsync(shop, ComplaintAct.Refuse, "Washed in the machine against the note.")).IsOk);
        Assert.Equal("complaint-missing", (await DecideAsync(shop, ComplaintAct.Refuse, "again", Guid.NewGuid())).Refusals[0].Code);

        await OpenAsync(shop, order, pieces);
        Assert.Equal("not-invoiced", (await DecideAsync(shop, ComplaintAct.Refund, "It peels.")).Refusals[0].Code);
        var invoice = await shop.InvoiceAsync(order);
        Assert.True((await DecideAsync(shop, ComplaintAct.Refund, "It peels.")).IsOk);
        Assert.Contains(await shop.Shop.Get<ComplaintView>().LoadAsync(order), c => c.CreditNote is not null);
        Assert.True((await shop.DetailAsync(invoice.Number)).Lines[0].Left < (await shop.DetailAsync(invoice.Number)).Lines[0].Quantity);
        await using var context = await shop.Shop.ContextAsync();
        var account = (await OrderAccount.LoadAsync(context, order, shop.Shop.Clock.GetUtcNow(), default))!;
        Assert.Equal((1, 0m), (account.Lines.Sum(l => l.Lost), account.Lines.Sum(l => l.Open)));
        Assert.Equal(account.Asked - account.Paid, account.LeftToPay);
        Assert.Equal(1, account.Lines.Sum(l => l.PaidBack));
        var found = (await shop.Shop.Get<InvoiceListView>().ForOrderAsync(account.Order.Number))!;
        Assert.Equal((0, 1), (found.Lost, found.PaidBack));
    }

    [Fact]
    public async Task Refund_OfWhatWasTakenBackByHand_IsClosedByThatCreditNote()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var (order, pieces) = await HandedOverAsync(shop);
        await OpenAsync(shop, order, pieces);
        var invoice = await shop.InvoiceAsync(order);
        var byHand = await shop.Shop.Get<IssueCreditNote>().RunAsync(shop.Asked(), new CreditInput(invoice.Id, null, "It peels."));
        Assert.True(byHand.IsOk);

        Assert.True((await DecideAsync(shop, ComplaintAct.Refund, "It peels.")).IsOk);

        await using var context = await shop.Shop.ContextAsync();
        Assert.Equal(byHand.Value.Id, (await context.Complaints.SingleAsync()).CreditNote);
        await OpenAsync(shop, order, pieces);
        Assert.Equal("not-invoiced", (await DecideAsync(shop, ComplaintAct.Refund, "It peels.")).Refusals[0].Code);
    }

    [Fact]
    public async Task Refund_OfTwoPiecesTakenBackByHandOneAfterTheOther_CountsTheNoteByThePiece()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var (order, pieces) = await TwoHandedOverAsync(shop);
        var invoice = await shop.InvoiceAsync(order);
        var two = new CreditInput(invoice.Id, new Dictionary<string, decimal> { ["1"] = 2m }, "They peel.", AsksNoMore: true);
        var byHand = await shop.Shop.Get<IssueCreditNote>().RunAsync(shop.Asked(), two);
        Assert.True(byHand.IsOk);

        foreach (var piece in pieces)
        {
            await OpenAsync(shop, order, [piece]);
            Assert.True((await DecideAsync(shop, ComplaintAct.Refund, "It peels.")).IsOk);
        }

        await using var context = await shop.Shop.ContextAsync();
        Assert.All(await context.Complaints.ToListAsync(), c => Assert.Equal(byHand.Value.Id, c.CreditNote));
        Assert.Equal(1, await context.Documents.CountAsync(d => d.Corrects == invoice.Id));
        var third = await context.Pieces.Where(p => p.Order == order && !pieces.Contains(p.Id)).Select(p => p.Id).FirstAsync();
        await OpenAsync(shop, order, [third]);
        Assert.True((await DecideAsync(shop, ComplaintAct.Refund, "It peels.")).IsOk);
        Assert.Equal(2, await context.Documents.CountAsync(d => d.Corrects == invoice.Id));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task Remake_OfAnOwnPieceWithAPicture_IsPromisedWithTheDayOfItsProof(bool own)
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var (order, pieces) = await HandedOverAsync(shop);
        await OpenAsync(shop, order, pieces);
        await using var context = await shop.Shop.ContextAsync();
        foreach (var line in (await context.Orders.SingleAsync(o => o.Id == order)).AllLines)
        {
            context.Entry(line).Property(l => l.Picture).CurrentValue = new PictureId(Guid.CreateVersion7());
            context.Entry(line).Property(l => l.Piece).CurrentValue = line.Piece with { IsOwn = own };
        }
        await context.SaveChangesAsync();

        var judged = await JudgedRemake.OfAsync(context, await context.Complaints.SingleAsync(), shop.Shop.Clock.GetUtcNow(), default);

        Assert.Equal(own, judged.Asked.ProofOpen);
    }

    [Fact]
    public async Task Remake_OfAPiece_BooksItOnceMoreAtNoPriceWithTheSameSettings()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var (order, pieces) = await HandedOverAsync(shop);
        await OpenAsync(shop, order, pieces);
        var done = await DecideAsync(shop, ComplaintAct.Remake, "We make it once more.");
        Assert.True(done.IsOk, string.Join("; ", done.Refusals.Select(r => r.Text)));
        var row = (await shop.Shop.Get<ComplaintView>().LoadAsync(order)).Single();
        Assert.Equal(ComplaintState.Remade, row.State);
        await using var context = await shop.Shop.ContextAsync();
        var old = await context.Orders.AsNoTracking().SingleAsync(o => o.Id == order);
        var remake = await context.Orders.AsNoTracking().SingleAsync(o => o.Number == row.Remake);
        Assert.Equal((0m, old.Customer), (remake.Gross, remake.Customer));
        var line = Assert.Single(remake.Lines);
        var same = old.Lines.Single(l => l.Piece == line.Piece);
        Assert.Equal((1, same.Finish, same.Picture), (line.Quantity, line.Finish, line.Picture));
        Assert.Equal(1, await context.Pieces.CountAsync(p => p.Order == remake.Id));
    }

    [Fact]
    public async Task Remake_OfAGermanGift_SpeaksGermanAndIsAGift()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var (order, pieces) = await HandedOverAsync(shop);
        await using (var context = await shop.Shop.ContextAsync())
        {
            var given = await context.Orders.SingleAsync(o => o.Id == order);
            var gift = context.Entry(given);
            gift.Property(o => o.IsGift).CurrentValue = true;
            gift.Property(o => o.Agreements).CurrentValue = [.. given.Agreements.Select(a => a with { Language = "de" })];
            await context.SaveChangesAsync();
        }
        await OpenAsync(shop, order, pieces);

        Assert.True((await DecideAsync(shop, ComplaintAct.Remake, "We make it once more.")).IsOk);

        await using var after = await shop.Shop.ContextAsync();
        var remake = await after.Orders.AsNoTracking().OrderByDescending(o => o.Number).FirstAsync();
        Assert.Equal(("de", true), (remake.Language, remake.IsGift));
    }

    [Fact]
    public async Task Remake_WhileSomebodyElseWrites_PlansItsDayMeanwhile()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var (order, pieces) = await HandedOverAsync(shop);
        await OpenAsync(shop, order, pieces);
        await using var context = await shop.Shop.ContextAsync();
        var piece = await context.Pieces.AsNoTracking().SingleAsync(p => p.Id == pieces[0]);
        var line = (await context.Orders.AsNoTracking().SingleAsync(o => o.Id == order)).AllLines.First(l => l.Id == piece.Line);
        var steps = piece.Items.OrderBy(i => i.Number).Select(i => i.Settings).ToList();
        var (promises, asked) = (shop.Shop.Get<PromiseDay>(), new AskedOrder([new NewPieces(line.Piece, 1, steps, 0m)], Rush: false));
        promises.Forget();

        Task<Result<Done>> remake;
        using (await shop.Shop.Get<WriteGate>().EnterAsync(default))
        {
            remake = DecideAsync(shop, ComplaintAct.Remake, "We make it once more.");
            var isPlanned = false;
            for (var looks = 0; looks < 20_000 && !isPlanned; looks++)
            {
                await Task.Yield();
                isPlanned = await promises.NowAsync(context, asked, default) is not null;
            }
            Assert.True(isPlanned, "The day is planned only within the gate.");
        }
        Assert.True((await remake).IsOk);
    }

    private static async Task<(OrderId Order, IReadOnlyList<PieceId> Pieces)> HandedOverAsync(InvoicingShop shop)
    {
        await using var context = await shop.Shop.ContextAsync();
        await context.Complaints.ExecuteDeleteAsync();
        var piece = await context.Pieces.AsNoTracking().OrderBy(p => p.Code).FirstAsync(p => p.State == PieceState.HandedOver);
        return (piece.Order, [piece.Id]);
    }

    /// <summary>Two pieces of an order of several, all of them handed over.</summary>
    private static async Task<(OrderId Order, IReadOnlyList<PieceId> Pieces)> TwoHandedOverAsync(InvoicingShop shop)
    {
        await using var context = await shop.Shop.ContextAsync();
        await context.Complaints.ExecuteDeleteAsync();
        var order = (await context.Orders.AsNoTracking().ToListAsync())
            .First(o => o.Lines is [{ Quantity: > 2 }] && o.Charges.Count == 0)
            .Id;
        await context.Pieces.Where(p => p.Order == order).ExecuteUpdateAsync(p => p.SetProperty(x => x.State, PieceState.HandedOver));
        return (order, await context.Pieces.Where(p => p.Order == order).OrderBy(p => p.Number).Select(p => p.Id).Take(2).ToListAsync());
    }

    private static async Task OpenAsync(InvoicingShop shop, OrderId order, IReadOnlyList<PieceId> pieces)
    {
        var opened = await shop
            .Shop.Get<OpenComplaint>()
            .RunAsync(shop.Asked(), new ComplaintInput(order, pieces, "The coat peels at one corner."));
        Assert.True(opened.IsOk, string.Join("; ", opened.Refusals.Select(r => r.Text)));
    }

    private static async Task<Result<Done>> DecideAsync(InvoicingShop shop, ComplaintAct act, string answer, Guid? id = null)
    {
        var row = (await shop.Shop.Get<ComplaintView>().LoadAsync())[0];
        return await shop.Shop.Get<DecideComplaint>().RunAsync(shop.Asked(), new ComplaintDecision(id ?? row.Id, row.Version, act, answer));
    }
}

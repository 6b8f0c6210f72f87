using ShopFloor.Data;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Counter;

/// <summary>A second side with a picture is neither priced nor promised: it is asked about before the work begins.</summary>
public sealed class SecondSideTests
{
    [Theory]
    [InlineData("en", "Line 1: you want a picture on a second side, too.")]
    [InlineData("de", "Zeile 1: Sie möchten auch auf einer zweiten Seite ein Bild.")]
    public async Task Book_WithASecondSide_AsksTheCustomerAndWaitsForApproval(string language, string question)
    {
        await using var shop = await ShopOrders.DemoAsync();
        var worker = await shop.WorkerAsync(WorkerRole.Bench);
        var order = ShopOrders.Plates(1) with { Language = language };
        var one = (await shop.Get<QuoteOrder>().RunAsync(order)).Gross;
        order = order with { Lines = [order.Lines[0] with { SecondSide = true, Texts = ["Moor"] }] };

        var booked = await shop.Get<BookOrder>().RunAsync(Asked.By(worker), await shop.ShownAsync(order));

        Assert.True(booked.IsOk, booked.IsOk ? "" : booked.Refusals[0].Text);
        Assert.Equal(one, (await shop.Get<QuoteOrder>().RunAsync(order)).Gross);
        var (questions, _) = await shop.Get<QuestionView>().LoadAsync(booked.Value.Number);
        Assert.StartsWith(question, Assert.Single(questions).Text, StringComparison.Ordinal);
        Assert.Equal(ProofState.Waiting, (await shop.Get<OrderDetailView>().LoadAsync(booked.Value.Number))!.Proof);
        await using var context = await shop.ContextAsync();
        var work = await OpenWork.LoadAsync(context, shop.Clock.GetUtcNow(), null, default);
        Assert.StartsWith(question, Assert.Single(work.Orders[booked.Value.Order].Unanswered).Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Book_WithoutASecondSide_AsksNothing()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var worker = await shop.WorkerAsync(WorkerRole.Bench);
        var booked = await shop.Get<BookOrder>().RunAsync(Asked.By(worker), await shop.ShownAsync(ShopOrders.Plates(1)));
        Assert.Empty((await shop.Get<QuestionView>().LoadAsync(booked.Value.Number)).Questions);
    }
}

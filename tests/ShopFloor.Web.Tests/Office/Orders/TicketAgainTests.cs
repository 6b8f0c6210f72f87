using System.Net;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Documents;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Tests.Counter;
using UglyToad.PdfPig;

namespace ShopFloor.Web.Tests.Office.Orders;

/// <summary>A customer lost the ticket: the owner prints it again, and makes a new link where the old one is wanted back.</summary>
public sealed class TicketAgainTests
{
    [Fact]
    public async Task Print_WithoutANewLink_LeavesTheOldOneAlone()
    {
        await using var counter = await CounterHost.OpenAsync();
        var booked = await counter.BookAsync(await counter.BeginAsync());
        using var owner = await counter.Host.ClientAsync(WorkerRole.Owner);

        Assert.Contains($"Order {booked.Number}", await PrintAsync(owner, booked.Number, null), StringComparison.Ordinal);

        using var customer = counter.Host.Client();
        Assert.Equal(HttpStatusCode.OK, (await customer.GetAsync($"/status/{booked.StatusToken}")).StatusCode);
        Assert.Equal($"Ticket {booked.Number}", Assert.Single((await counter.Get<PrintedList>().ReadAsync(1)).Lines).Name);
    }

    [Fact]
    public async Task NewLink_Made_OpensThePageAndTheOldOneOpensNothing()
    {
        await using var counter = await CounterHost.OpenAsync();
        var booked = await counter.BookAsync(await counter.BeginAsync());
        var (who, command) = (await counter.WorkerAsync(WorkerRole.Owner), Guid.CreateVersion7());
        using var owner = await counter.Host.ClientAsync(WorkerRole.Owner);

        var made = await counter.Get<NewStatusLink>().RunAsync(Asked.By(who, command), booked.Number);
        var again = await counter.Get<NewStatusLink>().RunAsync(Asked.By(who, command), booked.Number);
        Assert.Contains("Scan to see", await PrintAsync(owner, booked.Number, command), StringComparison.Ordinal);

        Assert.Equal((made.Value, 48), (again.Value, made.Value.Token.Length));
        using var customer = counter.Host.Client();
        Assert.Equal(HttpStatusCode.OK, (await customer.GetAsync($"/status/{made.Value.Token}")).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await customer.GetAsync($"/status/{booked.StatusToken}")).StatusCode);
        await using var context = await counter.ContextAsync();
        var kept = await context.Commands.SingleAsync(c => c.Id == command);
        Assert.DoesNotContain(made.Value.Token, kept.ResultJson, StringComparison.Ordinal);
        Assert.Single(await context.Audit.Where(a => a.What == "status link made anew").ToListAsync());
    }

    [Fact]
    public async Task NewLink_OfAnErasedOrderOrByTheCounter_IsRefused()
    {
        await using var counter = await CounterHost.OpenAsync();
        var booked = await counter.BookAsync(await counter.BeginAsync());
        var links = counter.Get<NewStatusLink>();
        var tablet = await links.RunAsync(Asked.By(await counter.WorkerAsync(WorkerRole.Counter)), booked.Number);
        Assert.Equal("no-right", tablet.Refusals[0].Code);
        using var answer = await counter.Tablet.PostAsync($"/office/orders/{booked.Number}/ticket", null);
        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
        await using (var context = await counter.ContextAsync())
        {
            (await context.Orders.FindAsync(booked.Order))!.Erase();
            await context.SaveChangesAsync();
        }
        var erased = await links.RunAsync(Asked.By(await counter.WorkerAsync(WorkerRole.Owner)), booked.Number);
        Assert.Equal("link-closed", erased.Refusals[0].Code);
    }

    [Fact]
    public async Task Pieces_EachWithItsOwnText_SayTheirNumberAndTheirText()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(3, "Ana", "Berta", "Cleo"));
        Assert.Equal([(1, "Ana"), (2, "Berta"), (3, "Cleo")], (await shop.DetailAsync()).Pieces.Select(p => (p.Number, p.Text)));
    }

    private static async Task<string> PrintAsync(HttpClient owner, int order, Guid? link)
    {
        var sent = new Dictionary<string, string> { ["__RequestVerificationToken"] = await CounterHost.TokenAsync(owner, "/counter") };
        if (link is { } command)
            sent["link"] = command.ToString();
        using var form = new FormUrlEncodedContent(sent);
        using var answer = await owner.PostAsync($"/office/orders/{order}/ticket", form);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        using var read = PdfDocument.Open(await answer.Content.ReadAsByteArrayAsync());
        return string.Join(' ', read.GetPages().SelectMany(p => p.GetWords()).Select(w => w.Text));
    }
}

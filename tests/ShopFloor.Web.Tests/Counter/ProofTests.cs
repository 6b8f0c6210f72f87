using System.Net;
using AngleSharp.Html.Dom;
using AngleSharp.Html.Parser;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Documents.Imaging;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Api;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Counter.Status;

namespace ShopFloor.Web.Tests.Counter;

/// <summary>A customer judges the picture on the order's own page.</summary>
public sealed class ProofTests
{
    [Fact]
    public async Task Proof_ApprovedByTheCustomer_IsApprovedOnceAndByFormOnly()
    {
        await using var counter = await CounterHost.OpenAsync();
        var booked = await counter.BookAsync(await WithPictureAsync(counter));
        Assert.Equal(ProofState.Waiting, Assert.Single(await OrdersAsync(counter)).Proof);
        using var customer = counter.Host.Client();
        var page = $"/status/{booked.StatusToken}";
        using var looked = await customer.GetAsync($"{page}/picture/1");
        Assert.Equal("image/webp", looked.Content.Headers.ContentType?.MediaType);
        Assert.Equal(ProofState.Waiting, Assert.Single(await OrdersAsync(counter)).Proof);
        var command = Guid.CreateVersion7();
        var form = await FormAsync(customer, page);
        for (var i = 0; i < 2; i++)
            Assert.EndsWith("said=true", await JudgeAsync(customer, page, form, command, "true"), StringComparison.Ordinal);
        Assert.Equal(ProofState.Approved, Assert.Single(await OrdersAsync(counter)).Proof);
        var late = await JudgeAsync(customer, page, form, Guid.CreateVersion7(), "false", "Larger, please");
        Assert.EndsWith("fault=proof-judged", late, StringComparison.Ordinal);
    }

    /// <summary>Who approves in the Office must see the picture that is there now.</summary>
    [Fact]
    public async Task Proof_InTheOffice_IsKeptByNoBrowser()
    {
        await using var counter = await CounterHost.OpenAsync();
        var booked = await counter.BookAsync(await WithPictureAsync(counter));
        using var owner = await counter.Host.ClientAsync(WorkerRole.Owner);

        using var looked = await owner.GetAsync($"/office/orders/{booked.Number}/proof/1");

        Assert.Equal("image/webp", looked.Content.Headers.ContentType?.MediaType);
        Assert.True(looked.Headers.CacheControl?.NoStore);
    }

    [Fact]
    public async Task Proof_OfAPictureThatCameAfterThePage_IsNotApprovedUnseen()
    {
        await using var counter = await CounterHost.OpenAsync();
        var booked = await counter.BookAsync(await WithPictureAsync(counter));
        using var customer = counter.Host.Client();
        var page = $"/status/{booked.StatusToken}";
        var form = await FormAsync(customer, page);
        var other = (await counter.Get<PictureDoor>().AdmitAsync(CounterHost.Picture(90, 60), "b.png", default)).Value;
        var owner = Asked.By(await counter.WorkerAsync(WorkerRole.Owner));
        Assert.True((await counter.Get<PutPicture>().RunAsync(owner, new PicturePlace(booked.Number, 1, "*", true), other)).IsOk);

        var stale = await JudgeAsync(customer, page, form, Guid.CreateVersion7(), "true");

        Assert.EndsWith("fault=changed-meanwhile", stale, StringComparison.Ordinal);
        Assert.Contains("Something has changed since you looked", await customer.GetStringAsync(stale[1..]), StringComparison.Ordinal);
        Assert.Equal(ProofState.Waiting, Assert.Single(await OrdersAsync(counter)).Proof);
        var seen = await JudgeAsync(customer, page, await FormAsync(customer, page), Guid.CreateVersion7(), "true");
        Assert.EndsWith("said=true", seen, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Proof_AChangeWithoutWords_IsRefusedAndNothingChanges()
    {
        await using var counter = await CounterHost.OpenAsync();
        var booked = await counter.BookAsync(await WithPictureAsync(counter));
        using var customer = counter.Host.Client();
        var page = $"/status/{booked.StatusToken}";
        var answer = await JudgeAsync(customer, page, await FormAsync(customer, page), Guid.CreateVersion7(), "false", "  ");
        Assert.EndsWith("fault=words-missing", answer, StringComparison.Ordinal);
        Assert.Equal(ProofState.Waiting, Assert.Single(await OrdersAsync(counter)).Proof);
    }

    [Fact]
    public async Task Proof_OfALinkWhoseTimeIsOver_IsNotTakenAnyMore()
    {
        await using var counter = await CounterHost.OpenAsync();
        var booked = await counter.BookAsync(await WithPictureAsync(counter));
        using var customer = counter.Host.Client();
        var page = $"/status/{booked.StatusToken}";
        var form = await FormAsync(customer, page);
        await using (var context = await ContextAsync(counter))
        {
            foreach (var piece in await context.Pieces.Where(p => p.Order == booked.Order).ToListAsync())
                piece.Apply(new PieceReturned(counter.Host.Clock.GetUtcNow(), "not wanted"));
            await context.SaveChangesAsync();
        }
        // At once: what looks after the shop every few seconds would have three months of looks to make up for.
        counter.Host.Clock.AdjustTime(counter.Host.Clock.GetUtcNow().AddDays(91));

        var late = await JudgeAsync(customer, page, form, Guid.CreateVersion7(), "true");

        Assert.EndsWith("fault=link-gone", late, StringComparison.Ordinal);
        Assert.Equal(ProofState.Waiting, Assert.Single(await OrdersAsync(counter)).Proof);
        var answer = await counter.Get<AnswerQuestion>().RunAsync(Guid.CreateVersion7(), booked.StatusToken, 1, "Matt");
        Assert.Equal("link-gone", answer.Refusals[0].Code);
    }

    [Fact]
    public async Task Proof_OfAnotherOrderWithTheSameCommand_IsNotTakenForTheFirst()
    {
        await using var counter = await CounterHost.OpenAsync();
        var first = await counter.BookAsync(await WithPictureAsync(counter));
        var second = await counter.BookAsync(await WithPictureAsync(counter));
        var (judge, command) = (counter.Get<JudgeProof>(), Guid.CreateVersion7());
        var word = new ProofWord(true, "", (await counter.Get<StatusView>().RunAsync(first.StatusToken))!.Stamp);

        Assert.True((await judge.RunAsync(command, first.StatusToken, word)).IsOk);

        Assert.Equal("command-reused", (await judge.RunAsync(command, second.StatusToken, word)).Refusals[0].Code);
        Assert.Equal([ProofState.Approved, ProofState.Waiting], (await OrdersAsync(counter)).Select(o => o.Proof));
    }

    /// <summary>The fields that a page sends besides the answer: what was shown, and the visitor's own secret.</summary>
    private sealed record PageForm(string Token, string Seen);

    private static async Task<PageForm> FormAsync(HttpClient customer, string page)
    {
        var read = new HtmlParser().ParseDocument(await customer.GetStringAsync(page));
        string Field(string name) => ((IHtmlInputElement)read.QuerySelector($"form[action$='/proof'] input[name='{name}']")!).Value;
        return new PageForm(Field("__RequestVerificationToken"), Field("seen"));
    }

    /// <summary>Sends the customer's word; where that leads.</summary>
    private static async Task<string> JudgeAsync(
        HttpClient client,
        string page,
        PageForm form,
        Guid command,
        string approved,
        string words = ""
    )
    {
        using var content = new FormUrlEncodedContent(
            new Dictionary<string, string>
            {
                ["__RequestVerificationToken"] = form.Token,
                ["seen"] = form.Seen,
                ["command"] = command.ToString(),
                ["approved"] = approved,
                ["words"] = words,
            }
        );
        using var answer = await client.PostAsync($"{page}/proof", content);
        return answer.Headers.Location?.ToString() ?? "";
    }

    private static async Task<Guid> WithPictureAsync(CounterHost counter)
    {
        var draft = await counter.BeginAsync();
        var (tablet, place) = (counter.Tablet, $"/counter/order/{draft}/pictures");
        var sent = await CounterHost.SendAsync(tablet, "/counter", place, CounterHost.Picture(), "a.png");
        Assert.Equal(HttpStatusCode.OK, sent.Status);
        return draft;
    }

    private static async Task<IReadOnlyList<Order>> OrdersAsync(CounterHost counter)
    {
        await using var context = await ContextAsync(counter);
        return await context.Orders.AsNoTracking().OrderBy(o => o.Number).ToListAsync();
    }

    private static Task<ShopContext> ContextAsync(CounterHost counter) =>
        counter.Host.Services.GetRequiredService<IDbContextFactory<ShopContext>>().CreateDbContextAsync();
}

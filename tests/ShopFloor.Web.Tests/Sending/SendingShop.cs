using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Office.Sending;
using ShopFloor.Web.Tests.Bench;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Sending;

/// <summary>A shop with one order in work, and an owner who sets up mail and webhooks.</summary>
internal sealed class SendingShop : IAsyncDisposable
{
    private SendingShop(BenchShop bench, Guid owner) => (Bench, Owner) = (bench, owner);

    public BenchShop Bench { get; }

    public Guid Owner { get; }

    public static async Task<SendingShop> OpenAsync(int pieces = 1, bool own = false)
    {
        var bench = await BenchShop.OpenAsync(pieces, own);
        return new SendingShop(bench, await bench.Shop.WorkerAsync(WorkerRole.Owner));
    }

    public Asked Asked() => Commands.Asked.By(Owner);

    public async Task MailThroughAsync(int port, Func<MailSettings, MailSettings>? change = null)
    {
        var settings = new MailSettings
        {
            Host = "127.0.0.1",
            Port = port,
            Line = MailLine.Open,
            From = "shop@moorlight.example",
        };
        var done = await Bench.Shop.Get<ChangeMail>().RunAsync(Asked(), new MailInput(change?.Invoke(settings) ?? settings, null));
        Assert.True(done.IsOk, string.Join("; ", done.Refusals.Select(r => r.Text)));
    }

    /// <summary>As if the customer had agreed in another language.</summary>
    public async Task AgreedInAsync(string language)
    {
        await using var context = await Bench.Shop.ContextAsync();
        var order = await context.Orders.SingleAsync();
        var agreed = order.Agreements.Select(a => a with { Language = language }).ToList();
        context.Entry(order).Property(o => o.Agreements).CurrentValue = agreed;
        await context.SaveChangesAsync();
    }

    public async Task<WebhookKept> HookAsync(string url, params string[] events)
    {
        var done = await Bench.Shop.Get<ChangeWebhook>().RunAsync(Asked(), new WebhookInput(null, url, events));
        Assert.True(done.IsOk, string.Join("; ", done.Refusals.Select(r => r.Text)));
        return done.Value;
    }

    /// <summary>One more order, its number and the secret of its page.</summary>
    public async Task<(int Order, string Token)> WithLinkAsync()
    {
        var plates = ShopOrders.Plates(1) with { Contact = new Contact("Somebody", "somebody@shop.example", "") };
        var booked = await Bench.Shop.Get<BookOrder>().RunAsync(Asked(), await Bench.Shop.ShownAsync(plates));
        Assert.True(booked.IsOk, booked.Refusals.FirstOrDefault()?.Text);
        return (booked.Value.Number, booked.Value.StatusToken);
    }

    /// <summary>Works the order to its end at the Bench.</summary>
    public Task MakeReadyAsync() => Bench.WorkToAsync(StepKind.Mask);

    public Task<int> SendAsync<T>()
        where T : ICarrier => Bench.Shop.Get<SendDue>().RunAsync(Bench.Shop.Get<T>(), default);

    public async Task<IReadOnlyList<OutboxMessage>> OutboxAsync()
    {
        await using var context = await Bench.Shop.ContextAsync();
        return await context.Outbox.AsNoTracking().OrderBy(m => m.Id).ToListAsync();
    }

    public ValueTask DisposeAsync() => Bench.DisposeAsync();
}

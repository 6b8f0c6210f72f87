using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Background.Sending;

/// <summary>
/// Looks at what a command is about to save and writes what must be told outside into the outbox, in the same transaction. Called by the
/// command runner, so no use case can forget it.
/// </summary>
public static class OrderNews
{
    public const string Booked = "order.booked";
    public const string PromiseMoved = "order.promise-moved";
    public const string Ready = "order.ready";
    public const string HandedOver = "order.handed-over";
    public const string CalledOff = "order.called-off";

    /// <summary>All events, in the order of an order's life.</summary>
    public static IReadOnlyList<string> All { get; } = [Booked, PromiseMoved, Ready, HandedOver, CalledOff];

    /// <summary>Key of an order's first ready notice, and the beginning of the keys of further ones.</summary>
    public static string ReadyKey(OrderId order) => $"ready/{order.Value:N}";

    /// <summary>Writes the messages.</summary>
    public static async Task WriteAsync(CommandWork work, CancellationToken cancel)
    {
        var (orders, pieces) = (Changed(work.Context), Moved(work.Context));
        if (orders.Count == 0 && pieces.Count == 0)
            return;
        var turns = await PieceTurns.OfAsync(work.Context, pieces, cancel);
        List<(OrderId Order, string What)> news = [.. orders];
        news.AddRange(turns.Where(t => t.BecameReady).Select(t => (t.Order, Ready)));
        news.AddRange(turns.Where(t => t.BecameOver).Select(t => (t.Order, HandedOver)));
        var calledOff = orders.Where(o => o.What == CalledOff).Select(o => o.Order);
        foreach (var order in turns.Where(t => t.NoLongerReady).Select(t => t.Order).Union(calledOff))
            await WithdrawAsync(work, order, cancel);
        if (news.Count == 0)
            return;
        var hooks = await work.Context.Webhooks.AsNoTracking().Where(h => h.IsActive).ToListAsync(cancel);
        foreach (var (id, what) in news)
            await TellAsync(work, (id, what), hooks, cancel);
    }

    private static List<(OrderId Order, string What)> Changed(ShopContext context)
    {
        List<(OrderId, string)> news = [];
        foreach (var entry in context.ChangeTracker.Entries<Order>())
        {
            var order = entry.Entity;
            if (entry.State == EntityState.Added)
                news.Add((order.Id, Booked));
            else if (entry.State == EntityState.Modified)
            {
                if (entry.Property(o => o.PromisedAt).IsModified)
                    news.Add((order.Id, PromiseMoved));
                if (order.CancelledAt is not null && entry.Property(o => o.CancelledAt).IsModified)
                    news.Add((order.Id, CalledOff));
            }
        }
        return news;
    }

    private static Dictionary<PieceId, Piece> Moved(ShopContext context) =>
        context.ChangeTracker.Entries<Piece>().Where(e => e.State == EntityState.Modified).ToDictionary(e => e.Entity.Id, e => e.Entity);

    private static async Task TellAsync(CommandWork work, (OrderId Id, string What) news, List<Webhook> hooks, CancellationToken cancel)
    {
        var wanting = hooks.Where(h => h.Wants(news.What)).ToList();
        if (wanting.Count == 0 && news.What != Ready)
            return;
        var order = await work.Context.Orders.FindAsync([news.Id], cancel) ?? throw new InvalidOperationException("News of no order.");
        if (news.What == Ready && order.CancelledAt is not null)
            return;
        foreach (var hook in wanting)
            work.Context.Outbox.Add(
                new OutboxMessage(Guid.CreateVersion7(), OutboxMessage.Hook, Body(order, news.What, work.Now), work.Now)
                {
                    Subject = $"{news.What}, order {order.Number}",
                    Target = hook.Id,
                    Order = order.Id,
                }
            );
        if (news.What == Ready)
            await TellCustomerAsync(work, order, cancel);
    }

    private static async Task TellCustomerAsync(CommandWork work, Order order, CancellationToken cancel)
    {
        var settings = await CurrentSettings.LoadAsync(work.Context, work.Now, cancel);
        if (!settings.Mail.TellReady || OrderMail.To(order, settings) is not { } to)
            return;
        var key = ReadyKey(order.Id);
        var told = await work.Context.Outbox.Where(m => m.Key.StartsWith(key)).Select(m => m.At).ToListAsync(cancel);
        if (told.Count > 0 && !await HasNewPiecesAsync(work, order.Id, told.Max(), cancel))
            return;
        if (told.Count > 0)
            key = string.Create(CultureInfo.InvariantCulture, $"{key}/{told.Count + 1}");
        var message = OrderMail.Message(order, settings, t => t.Ready, (key, $"Ready notice, order {order.Number}"), to, work.Now);
        work.Context.Outbox.Add(message.NotBefore(work.Now.AddMinutes(settings.Mail.ReadyAfterMinutes)));
    }

    // What was made anew or ordered on top is news of its own, once it is ready.
    private static async Task<bool> HasNewPiecesAsync(CommandWork work, OrderId order, DateTimeOffset since, CancellationToken cancel)
    {
        var pieces = await work.Context.Pieces.Where(p => p.Order == order && !p.IsTest).Select(p => p.Id).ToListAsync(cancel);
        var lived = await work.Context.Journal.Where(j => pieces.Contains(j.Piece)).Select(j => new { j.Piece, j.At }).ToListAsync(cancel);
        return lived.GroupBy(j => j.Piece, j => j.At).Any(at => at.Min() > since);
    }

    private static async Task WithdrawAsync(CommandWork work, OrderId order, CancellationToken cancel)
    {
        var key = ReadyKey(order);
        work.Context.Outbox.RemoveRange(
            await work.Context.Outbox.Where(m => m.Key.StartsWith(key) && m.SentAt == null).ToListAsync(cancel)
        );
    }

    /// <summary>What a webhook is sent: numbers and instants, no names.</summary>
    private static string Body(Order order, string what, DateTimeOffset at) =>
        JsonSerializer.Serialize(
            new
            {
                type = what,
                timestamp = at.UtcDateTime,
                data = new
                {
                    order = order.Number,
                    externalId = order.ExternalId,
                    promisedAt = order.PromisedAt.UtcDateTime,
                    pieces = order.Lines.Sum(l => l.Quantity),
                },
            },
            JsonForms.Default
        );
}

using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Background.Demo;

/// <summary>What an invented month left in the outbox. No mail server is set and the webhook is off: the demo calls nobody.</summary>
public static class DemoSending
{
    public static async Task<Result<Done>> AddToAsync(CommandWork work, CancellationToken cancel)
    {
        var hook = new Webhook(Guid.CreateVersion7(), "", work.Now.AddDays(-20));
        _ = hook.Change("https://accounts.moorlight.example/orders", [OrderNews.Ready, OrderNews.HandedOver], isActive: false);
        work.Context.Webhooks.Add(hook);
        var pieces = await work.Context.Pieces.Where(p => !p.IsTest).Standing(work.Context).ToListAsync(cancel);
        var told = pieces.GroupBy(p => p.Order, p => p.Stand).Where(WasReady).Select(o => o.Key).ToList();
        var orders = await work.Context.Orders.AsNoTracking().Where(o => told.Contains(o.Id)).OrderBy(o => o.Number).ToListAsync(cancel);
        foreach (var order in orders)
            work.Context.Outbox.AddRange(Notice(order, work.Now), Call(order, hook, work.Now, isLost: order == orders[^1]));
        return default(Done);
    }

    // What was handed over was ready before.
    private static bool WasReady(IEnumerable<PieceStand> pieces) =>
        Readiness.IsReady([
            .. pieces.Select(s => s.State == PieceState.HandedOver ? new PieceStand(PieceState.CheckedGood, HasStep: false) : s),
        ]);

    private static OutboxMessage Notice(Order order, DateTimeOffset now)
    {
        var at = Earlier(order.PromisedAt.AddHours(-6), now.AddHours(-2));
        var message = new OutboxMessage(Guid.CreateVersion7(), OutboxMessage.Mail, "", at)
        {
            Key = OrderNews.ReadyKey(order.Id),
            Subject = $"Ready notice, order {order.Number}",
            Order = order.Id,
        };
        message.Sent(at.AddMinutes(10));
        return message;
    }

    private static OutboxMessage Call(Order order, Webhook hook, DateTimeOffset now, bool isLost)
    {
        var at = Earlier(order.PromisedAt.AddHours(-6), now.AddHours(-2));
        var body = JsonSerializer.Serialize(new { type = OrderNews.Ready, data = new { order = order.Number } }, JsonForms.Default);
        var message = new OutboxMessage(Guid.CreateVersion7(), OutboxMessage.Hook, body, at)
        {
            Subject = $"{OrderNews.Ready}, order {order.Number}",
            Order = order.Id,
            Target = hook.Id,
        };
        if (isLost)
            message.GiveUp(at.AddMinutes(1), "Answered 410: gone for good.");
        else
            message.Sent(at.AddSeconds(4));
        return message;
    }

    private static DateTimeOffset Earlier(DateTimeOffset a, DateTimeOffset b) => a < b ? a : b;
}

using Microsoft.EntityFrameworkCore;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Background.Sending;

/// <summary>Writes to customers whose order lies ready some days after they were told; each time once.</summary>
public sealed class RemindPickUps(CommandRunner runner) : IUseCase
{
    private sealed record Nothing;

    /// <summary>Writes what is due.</summary>
    /// <returns>How many mails were written.</returns>
    public Task<Result<int>> RunAsync(CancellationToken cancel = default) =>
        runner.RunAsync<Nothing, int>(
            nameof(RemindPickUps),
            Allowed.System,
            Asked.BySystem(),
            new Nothing(),
            work => DecideAsync(work, cancel),
            cancel
        );

    private static async Task<Result<int>> DecideAsync(CommandWork work, CancellationToken cancel)
    {
        var settings = await CurrentSettings.LoadAsync(work.Context, work.Now, cancel);
        var mail = settings.Mail;
        if (mail.Host.Length == 0 || (mail.FirstPickUpDays == 0 && mail.SecondPickUpDays == 0))
            return new Refusal("nothing-due", "No reminders are wanted.");
        var told = await ToldAsync(work, cancel);
        var written = 0;
        foreach (var (order, at) in told)
        {
            var days = (work.Now - at).TotalDays;
            var turn =
                mail.SecondPickUpDays > 0 && days >= mail.SecondPickUpDays ? 2
                : mail.FirstPickUpDays > 0 && days >= mail.FirstPickUpDays ? 1
                : 0;
            if (turn > 0 && await WriteAsync(work, settings, order, turn, cancel))
                written++;
        }
        return written > 0 ? written : new Refusal("nothing-due", "Nobody is to be reminded.");
    }

    /// <summary>Orders that lie ready, all of them, whose customer was told, with the instant.</summary>
    private static async Task<List<(OrderId Order, DateTimeOffset At)>> ToldAsync(CommandWork work, CancellationToken cancel)
    {
        var waiting = await work
            .Context.Pieces.Where(p => p.State == PieceState.CheckedGood && !p.IsTest)
            .Select(p => p.Order)
            .Distinct()
            .ToListAsync(cancel);
        var notices = await work
            .Context.Outbox.Where(m => m.SentAt != null && m.Order != null && m.Key.StartsWith("ready/"))
            .Select(m => new { m.Order, m.SentAt })
            .ToListAsync(cancel);
        var told = notices.Select(n => n.Order!.Value).Intersect(waiting).ToList();
        var pieces = await work
            .Context.Pieces.Where(p => told.Contains(p.Order) && !p.IsTest)
            .Select(p => new { p.Order, p.State })
            .ToListAsync(cancel);
        var ready = pieces.GroupBy(p => p.Order, p => p.State).Where(g => Readiness.IsReady([.. g])).Select(g => g.Key).ToHashSet();
        // Who was told again, because more was made, counts from then on.
        return
        [
            .. notices
                .Where(n => ready.Contains(n.Order!.Value))
                .GroupBy(n => n.Order!.Value)
                .Select(g => (g.Key, g.Max(n => n.SentAt!.Value))),
        ];
    }

    private static async Task<bool> WriteAsync(CommandWork work, CurrentSettings settings, OrderId id, int turn, CancellationToken cancel)
    {
        var key = $"pick-up-{turn}/{id.Value:N}";
        if (await work.Context.Outbox.AnyAsync(m => m.Key == key, cancel))
            return false;
        var order = await work.Context.Orders.AsNoTracking().FirstAsync(o => o.Id == id, cancel);
        if (OrderMail.To(order, settings) is not { } to)
            return false;
        var about = (key, $"Pick-up reminder {turn}, order {order.Number}");
        work.Context.Outbox.Add(OrderMail.Message(order, settings, t => t.PickUp, about, to, work.Now));
        return true;
    }
}

using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Background.Sending;

/// <summary>Writes to customers whose order lies ready some days after they were told; each time once.</summary>
public sealed class RemindPickUps(CommandRunner runner, IDbContextFactory<ShopContext> contexts) : IUseCase
{
    private static readonly Refusal NothingDue = new("nothing-due", "Nobody is to be reminded.");

    private sealed record Nothing;

    private sealed record Due(Order Order, int Turn)
    {
        public string Key => $"pick-up-{Turn}/{Order.Id.Value:N}";
    }

    /// <summary>Writes what is due.</summary>
    /// <returns>How many mails were written.</returns>
    public async Task<Result<int>> RunAsync(CancellationToken cancel = default)
    {
        // Mostly nobody is: nothing is written for it, and nobody at the Bench waits.
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var settings = await CurrentSettings.LoadAsync(context, runner.Now, cancel);
        var found = (await DueAsync(context, settings, runner.Now, only: null, cancel)).ConvertAll(d => d.Order.Id);
        if (found.Count == 0)
            return NothingDue;
        return await runner.RunAsync<Nothing, int>(
            nameof(RemindPickUps),
            Allowed.System,
            Asked.BySystem(),
            new Nothing(),
            work => DecideAsync(work, found, cancel),
            cancel
        );
    }

    private static async Task<Result<int>> DecideAsync(CommandWork work, List<OrderId> found, CancellationToken cancel)
    {
        var settings = await CurrentSettings.LoadAsync(work.Context, work.Now, cancel);
        var due = await DueAsync(work.Context, settings, work.Now, found, cancel);
        foreach (var one in due)
        {
            var about = (one.Key, $"Pick-up reminder {one.Turn}, order {one.Order.Number}");
            var to = OrderMail.To(one.Order, settings)!;
            work.Context.Outbox.Add(OrderMail.Message(one.Order, settings, t => t.PickUp, about, to, work.Now));
        }
        return due.Count > 0 ? due.Count : NothingDue;
    }

    /// <summary>Orders whose customers are to be reminded, and for which time.</summary>
    /// <param name="context">Where to look.</param>
    /// <param name="settings">Those that hold.</param>
    /// <param name="now">The instant.</param>
    /// <param name="only">Of these orders; null: of all.</param>
    /// <param name="cancel">Ends the reading.</param>
    private static async Task<List<Due>> DueAsync(
        ShopContext context,
        CurrentSettings settings,
        DateTimeOffset now,
        IReadOnlyList<OrderId>? only,
        CancellationToken cancel
    )
    {
        if (settings.Mail.Host.Length == 0)
            return [];
        var turns = (await ToldAsync(context, only, cancel))
            .Select(t => (t.Order, Turn: Turn(settings.Mail, (now - t.At).TotalDays)))
            .Where(t => t.Turn > 0)
            .ToDictionary(t => t.Order, t => t.Turn);
        var ids = turns.Keys.ToList();
        var orders = await context.Orders.AsNoTracking().Where(o => ids.Contains(o.Id)).OrderBy(o => o.Number).ToListAsync(cancel);
        var due = orders.ConvertAll(o => new Due(o, turns[o.Id])).FindAll(d => OrderMail.To(d.Order, settings) is not null);
        var keys = due.ConvertAll(d => d.Key);
        var written = await context.Outbox.Where(m => keys.Contains(m.Key)).Select(m => m.Key).ToListAsync(cancel);
        return due.FindAll(d => !written.Contains(d.Key));
    }

    private static int Turn(MailSettings mail, double days) =>
        mail.SecondPickUpDays > 0 && days >= mail.SecondPickUpDays ? 2
        : mail.FirstPickUpDays > 0 && days >= mail.FirstPickUpDays ? 1
        : 0;

    /// <summary>Orders that lie ready, all of them, whose customer was told, with the instant.</summary>
    private static async Task<List<(OrderId Order, DateTimeOffset At)>> ToldAsync(
        ShopContext context,
        IReadOnlyList<OrderId>? only,
        CancellationToken cancel
    )
    {
        var good = context.Pieces.Where(p => p.State == PieceState.CheckedGood && !p.IsTest);
        if (only is not null)
            good = good.Where(p => only.Contains(p.Order));
        var waiting = await good.Select(p => p.Order).Distinct().ToListAsync(cancel);
        var pieces = await context.Pieces.Where(p => waiting.Contains(p.Order) && !p.IsTest).Standing(context).ToListAsync(cancel);
        var ready = pieces.GroupBy(p => p.Order, p => p.Stand).Where(g => Readiness.IsReady([.. g])).Select(g => g.Key).ToList();
        var notices = await context
            .Outbox.Where(m => m.Order != null && ready.Contains(m.Order.Value) && m.SentAt != null && m.Key.StartsWith("ready/"))
            .Select(m => new { m.Order, m.SentAt })
            .ToListAsync(cancel);
        // Who was told again, because more was made, counts from then on.
        return [.. notices.GroupBy(n => n.Order!.Value).Select(g => (g.Key, g.Max(n => n.SentAt!.Value)))];
    }
}

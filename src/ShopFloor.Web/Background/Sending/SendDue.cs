using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Background.Sending;

/// <summary>
/// Sends what is due. A message is marked only after the other side took it, so a crash between the two sends it again with the same id,
/// and never loses it. While the clock is doubted all of it waits: what is due is so by that clock, and mails and signatures carry its time.
/// </summary>
public sealed partial class SendDue(
    IDbContextFactory<ShopContext> contexts,
    WriteGate gate,
    Notifier notifier,
    TimeProvider time,
    ILogger<SendDue> logger
)
{
    private const int AtOnce = 50;

    // What waits for hands waits for minutes, not for seconds.
    private static readonly TimeSpan NotYet = TimeSpan.FromMinutes(5);

    /// <summary>Tries every due message of the carrier's kind once, oldest first.</summary>
    /// <returns>How many went out.</returns>
    public async Task<int> RunAsync(ICarrier carrier, CancellationToken cancel)
    {
        var sent = 0;
        foreach (var message in await DueAsync(carrier.Kind, cancel))
        {
            var carried = await CarryAsync(carrier, message, cancel);
            // What the other side took is marked although the program is stopping: it would go out again at the next start.
            await MarkAsync(message.Id, carried, CancellationToken.None);
            sent += carried.End == CarryEnd.Taken ? 1 : 0;
        }
        return sent;
    }

    // One message that nobody foresaw must not hold up those behind it: it has failed, and waits longer each time.
    private async Task<Carried> CarryAsync(ICarrier carrier, OutboxMessage message, CancellationToken cancel)
    {
        try
        {
            return await carrier.CarryAsync(message, cancel);
        }
        catch (Exception trouble) when (trouble is not OperationCanceledException || !cancel.IsCancellationRequested)
        {
            LogTrouble(logger, message.Kind, message.Id, trouble);
            return new Carried(CarryEnd.Failed, $"{trouble.GetType().Name}: {trouble.Message}");
        }
    }

    private async Task<IReadOnlyList<OutboxMessage>> DueAsync(string kind, CancellationToken cancel)
    {
        var now = time.GetUtcNow();
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var due = await context
            .Outbox.AsNoTracking()
            .Where(m => m.Kind == kind && m.SentAt == null && m.DeadAt == null && m.NextTryAt <= now)
            .OrderBy(m => m.NextTryAt)
            .ThenBy(m => m.Id)
            .Take(AtOnce)
            .ToListAsync(cancel);
        return due.Count == 0 || await ClockMark.IsSureAsync(context, now, cancel) ? due : [];
    }

    private async Task MarkAsync(Guid id, Carried carried, CancellationToken cancel)
    {
        using (await gate.EnterAsync(cancel))
        {
            await using var context = await contexts.CreateDbContextAsync(cancel);
            // Withdrawn or erased while it was on its way: there is nothing left to mark.
            if (await context.Outbox.FirstOrDefaultAsync(m => m.Id == id, cancel) is not { } message)
                return;
            Mark(context, message, carried);
            await context.SaveChangesAsync(cancel);
            LogTried(logger, message.Kind, id, carried.End, message.Tries);
        }
        notifier.Tell([new Change(Topic.Outbox, id)]);
    }

    private void Mark(ShopContext context, OutboxMessage message, Carried carried)
    {
        var now = time.GetUtcNow();
        switch (carried.End)
        {
            case CarryEnd.Taken:
                message.Sent(now);
                break;
            case CarryEnd.Failed:
                message.Failed(now, carried.Why);
                break;
            case CarryEnd.NotYet:
                message.NotBefore(now + NotYet);
                break;
            case CarryEnd.Never:
                message.GiveUp(now, carried.Why);
                break;
            default:
                context.Outbox.Remove(message);
                break;
        }
    }

    [LoggerMessage(Level = LogLevel.Error, Message = "Outbox {Kind} {Id} could not be carried")]
    private static partial void LogTrouble(ILogger logger, string kind, Guid id, Exception trouble);

    [LoggerMessage(Level = LogLevel.Information, Message = "Outbox {Kind} {Id}: {End}, failed tries {Tries}")]
    private static partial void LogTried(ILogger logger, string kind, Guid id, CarryEnd end, int tries);
}

using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Sending;

/// <summary>Which messages the list shows.</summary>
public enum OutboxFilter
{
    /// <summary>Gave up: a person must look.</summary>
    Resting,

    /// <summary>To be sent, or to be tried again.</summary>
    Waiting,

    /// <summary>Went out.</summary>
    Sent,
}

/// <summary>One message in the list.</summary>
public sealed record OutboxRow(
    Guid Id,
    string Kind,
    string Subject,
    DateTimeOffset At,
    DateTimeOffset? SentAt,
    DateTimeOffset NextTryAt,
    int Tries,
    string Trouble,
    bool CanGoAgain
);

/// <summary>A page of the outbox.</summary>
public sealed record OutboxPage(IReadOnlyList<OutboxRow> Rows, int Count, int Page, int Pages, int Resting, bool HasMail, TimeZoneInfo Zone)
{
    /// <summary>Nothing goes out until the clock is confirmed, or right again.</summary>
    public bool WaitsForClock { get; init; }

    /// <summary>An instant in the shop's own time.</summary>
    public DateTime Local(DateTimeOffset at) => TimeZoneInfo.ConvertTime(at, Zone).DateTime;
}

/// <summary>Reads what was sent, waits, or gave up. Addresses and words are not shown: they concern nobody here.</summary>
public sealed class OutboxView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    private const int PageSize = 50;

    /// <summary>A page of messages, newest first.</summary>
    public async Task<OutboxPage> LoadAsync(OutboxFilter filter, int page, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var now = time.GetUtcNow();
        var settings = await CurrentSettings.LoadAsync(context, now, cancel);
        var found = Of(context, filter);
        var count = await found.CountAsync(cancel);
        var pages = Math.Max(1, (count + PageSize - 1) / PageSize);
        var at = Math.Clamp(page, 1, pages);
        var rows = await found
            .OrderByDescending(m => m.At)
            .ThenByDescending(m => m.Id)
            .Skip((at - 1) * PageSize)
            .Take(PageSize)
            .Select(m => new OutboxRow(m.Id, m.Kind, m.Subject, m.At, m.SentAt, m.NextTryAt, m.Tries, m.Trouble, m.Json != ""))
            .ToListAsync(cancel);
        var resting = filter == OutboxFilter.Resting ? count : await Of(context, OutboxFilter.Resting).CountAsync(cancel);
        return new OutboxPage(rows, count, at, pages, resting, settings.Mail.Host.Length > 0, settings.Zone)
        {
            WaitsForClock = !await ClockMark.IsSureAsync(context, now, cancel),
        };
    }

    private static IQueryable<OutboxMessage> Of(ShopContext context, OutboxFilter filter) =>
        filter switch
        {
            OutboxFilter.Resting => context.Outbox.AsNoTracking().Where(m => m.DeadAt != null),
            OutboxFilter.Waiting => context.Outbox.AsNoTracking().Where(m => m.SentAt == null && m.DeadAt == null),
            _ => context.Outbox.AsNoTracking().Where(m => m.SentAt != null),
        };
}

using Ical.Net;
using Ical.Net.CalendarComponents;
using Ical.Net.DataTypes;
using Ical.Net.Serialization;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;
using Calendar = Ical.Net.Calendar;

namespace ShopFloor.Web.Api;

/// <summary>The promises as a calendar (RFC 5545, refresh by RFC 7986): one entry an order, by its number, without names.</summary>
public sealed class CalendarFeed(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    private const int DaysBack = 30;

    // Fixed, so that the text stays the same from day to day; no promise that is shown is older.
    private static readonly DateTime RulesFrom = new(2024, 1, 1, 0, 0, 0, DateTimeKind.Unspecified);

    /// <summary>The calendar's text.</summary>
    /// <param name="secret">The link's secret.</param>
    /// <param name="cancel">Ends the read.</param>
    /// <returns>Null when the link is none, was taken away, or its maker may no longer sign in.</returns>
    public async Task<string?> RunAsync(string secret, CancellationToken cancel)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var hash = KeySecret.Hash(secret);
        var key = await context.AccessKeys.AsNoTracking().FirstOrDefaultAsync(k => k.Hash == hash && k.RevokedAt == null, cancel);
        if (key?.Scopes is not [ApiScopes.Calendar] || !await context.Users.AnyAsync(u => u.Id == key.Worker && u.IsActive, cancel))
            return null;
        var now = time.GetUtcNow();
        var settings = await CurrentSettings.LoadAsync(context, now, cancel);
        var since = now.AddDays(-DaysBack);
        var orders = await context
            .Orders.AsNoTracking()
            .Where(o => o.PromisedAt >= since && o.CancelledAt == null)
            .OrderBy(o => o.Number)
            .Select(o => new
            {
                o.Id,
                o.Number,
                o.PromisedAt,
                o.BookedAt,
                o.Version,
            })
            .ToListAsync(cancel);
        var ids = orders.ConvertAll(o => o.Id);
        var states = (
            await context.Pieces.AsNoTracking().Where(p => ids.Contains(p.Order) && !p.IsTest).Standing(context).ToListAsync(cancel)
        ).ToLookup(p => p.Order, p => p.Stand);
        var calendar = Frame(settings.Profile.Name, settings.Profile.TimeZone);
        foreach (var order in orders)
            calendar.Events.Add(
                Entry(
                    (order.Id.Value, order.Number, order.Version),
                    TimeZoneInfo.ConvertTime(order.PromisedAt, settings.Zone).DateTime,
                    settings.Profile.TimeZone,
                    order.BookedAt,
                    [.. states[order.Id]]
                )
            );
        return new CalendarSerializer().SerializeToString(calendar);
    }

    private static Calendar Frame(string workshop, string zone)
    {
        var calendar = new Calendar { ProductId = "-//ShopFloor//Promises//EN" };
        calendar.AddTimeZone(VTimeZone.FromDateTimeZone(zone, RulesFrom, false));
        calendar.AddProperty("NAME", $"{workshop}: promises");
        calendar.AddProperty("X-WR-CALNAME", $"{workshop}: promises");
        calendar.AddProperty("REFRESH-INTERVAL;VALUE=DURATION", "PT1H");
        return calendar;
    }

    // DTSTAMP must not move with the clock, or no tag of the whole would ever fit twice: it says when the order was booked.
    private static CalendarEvent Entry(
        (Guid Id, int Number, int Version) order,
        DateTime promised,
        string zone,
        DateTimeOffset booked,
        IReadOnlyCollection<PieceStand> states
    )
    {
        var open = states.Count(s => !s.IsPacked && !s.State.IsEnd());
        return new CalendarEvent
        {
            Uid = $"{order.Id:N}@shopfloor",
            Sequence = order.Version,
            Summary =
                open == 0
                    ? string.Create(CultureInfo.InvariantCulture, $"Order {order.Number}, ready")
                    : string.Create(CultureInfo.InvariantCulture, $"Order {order.Number}, {open} of {states.Count} to do"),
            Start = new CalDateTime(promised.AddMinutes(-30), zone),
            End = new CalDateTime(promised, zone),
            DtStamp = new CalDateTime(booked.UtcDateTime, "UTC"),
        };
    }
}

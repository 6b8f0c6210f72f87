using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Calls;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Wall.Reading;

namespace ShopFloor.Web.Bench.Calls;

/// <summary>A call whose cause is there now, as the Bench answers it.</summary>
/// <param name="Id">Names it.</param>
/// <param name="Call">As the Wall shows it.</param>
/// <param name="Mark">Where it stands.</param>
/// <param name="State">Where it stands now.</param>
public sealed record OpenCall(Guid Id, WallCall Call, CallMark Mark, CallState State);

/// <summary>The calls of now, and how much was called today and in the last seven days.</summary>
public sealed record CallsSheet(IReadOnlyList<OpenCall> Open, CallReport Today, CallReport Week, int People);

/// <summary>Reads the calls.</summary>
public sealed class CallsView(SharedWork shared, IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>The calls whose cause is there now and that are written down, the most urgent first.</summary>
    public async Task<IReadOnlyList<OpenCall>> OpenAsync()
    {
        var (work, now) = (await shared.ReadAsync(), time.GetUtcNow());
        return
        [
            .. WallSheet
                .Of(work, now, [])
                .Calls.Where(c => c.Mark is not null && c.From <= now && (c.Until is null || now < c.Until))
                .Select(c => new OpenCall(c.Mark!.Id, c, c.Mark, c.Mark.StateAt(now)))
                .OrderBy(c => c.State)
                .ThenBy(c => c.Call.Rule.Priority),
        ];
    }

    /// <summary>How many calls about a code nobody has seen yet.</summary>
    public async Task<int> UnseenAsync(string code, CancellationToken cancel)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        return await context.Calls.CountAsync(c => c.ClearedAt == null && c.SeenAt == null && c.Subject == code, cancel);
    }

    /// <summary>The calls with the report.</summary>
    public async Task<CallsSheet> ReadAsync(CancellationToken cancel = default)
    {
        var now = time.GetUtcNow();
        var (work, from) = (await shared.ReadAsync(), now.AddDays(-7));
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var calls = await context.Calls.AsNoTracking().Where(c => c.RaisedAt >= from).ToListAsync(cancel);
        var midnight = TimeZoneInfo.ConvertTime(now, work.Work.Settings.Zone).TimeOfDay;
        return new CallsSheet(
            await OpenAsync(),
            CallReport.Of(calls, now - midnight, now),
            CallReport.Of(calls, from, now),
            await context.People.CountAsync(cancel)
        );
    }
}

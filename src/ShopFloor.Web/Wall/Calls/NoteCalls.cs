using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Calls;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Wall.Calls;

/// <summary>A call whose cause is there now.</summary>
public sealed record ActiveCall(string Key, string Rule, string Subject, string Source, int Priority);

/// <summary>Writes down which calls came up, came back or are over. The program itself does it, at the instants the Wall shows them by.</summary>
public sealed class NoteCalls(CommandRunner runner) : IUseCase
{
    /// <param name="asked">The program.</param>
    /// <param name="active">All calls whose cause is there now.</param>
    /// <param name="cancel">Ends the wait for the gate.</param>
    public Task<Result<Done>> RunAsync(Asked asked, IReadOnlyList<ActiveCall> active, CancellationToken cancel = default) =>
        runner.RunAsync<IReadOnlyList<ActiveCall>, Done>(
            nameof(NoteCalls),
            Allowed.System,
            asked,
            active,
            work => DecideAsync(work, active, cancel),
            cancel
        );

    private static async Task<Result<Done>> DecideAsync(CommandWork work, IReadOnlyList<ActiveCall> active, CancellationToken cancel)
    {
        var since = work.Now - Call.Hysteresis;
        var known = await work.Context.Calls.Where(c => c.ClearedAt == null || c.ClearedAt >= since).ToListAsync(cancel);
        var keys = active.Select(a => a.Key).ToHashSet(StringComparer.Ordinal);
        foreach (var over in known.Where(c => c.ClearedAt is null && !keys.Contains(c.Key)))
        {
            over.Clear(work.Now);
            work.Touch(Topic.Call, over.Id);
        }
        foreach (var call in active)
        {
            if (known.Exists(c => c.Key == call.Key && c.ClearedAt is null))
                continue;
            var before = known.Where(c => c.Key == call.Key).MaxBy(c => c.ClearedAt);
            if (before is null || !before.ComeBack(work.Now))
                work.Context.Calls.Add(before = New(call, work.Now));
            work.Touch(Topic.Call, before.Id);
        }
        return default(Done);
    }

    private static Call New(ActiveCall call, DateTimeOffset at) =>
        new(Guid.CreateVersion7(), call.Key, call.Rule, call.Subject, call.Source, call.Priority, at);
}

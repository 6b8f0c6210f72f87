using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Calls;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Bench.Calls;

/// <summary>Somebody answers calls.</summary>
/// <param name="Code">Id of a call, or the code that was scanned: all calls about it.</param>
/// <param name="Minutes">Put off for so long; null: seen.</param>
/// <param name="Reason">Why it is put off.</param>
public sealed record CallAnswer(string Code, int? Minutes = null, string? Reason = null);

/// <summary>Says that somebody is on a call, or puts it off for a while with a reason. Each answer stands in the audit.</summary>
public sealed class AnswerCall(CommandRunner runner) : IUseCase
{
    public Task<Result<Moved>> RunAsync(Asked asked, CallAnswer answer, CancellationToken cancel = default) =>
        runner.RunAsync<CallAnswer, Moved>(
            nameof(AnswerCall),
            Allowed.Bench,
            asked,
            answer,
            work => DecideAsync(work, answer, cancel),
            cancel
        );

    private static async Task<Result<Moved>> DecideAsync(CommandWork work, CallAnswer answer, CancellationToken cancel)
    {
        var code = Chosen.Clean(answer.Code);
        var open = work.Context.Calls.Where(c => c.ClearedAt == null);
        var calls = Guid.TryParse(code, out var id)
            ? await work.Context.Calls.Where(c => c.Id == id).ToListAsync(cancel)
            : await open.Where(c => c.Subject == code).ToListAsync(cancel);
        if (calls.Count == 0)
            return new Refusal("no-call", "Nothing calls about this any more.");
        foreach (var call in calls)
        {
            var done = answer.Minutes is { } minutes
                ? call.PutOff(TimeSpan.FromMinutes(minutes), answer.Reason ?? "", work.By, work.Now)
                : call.See(work.By, work.Now);
            if (!done.IsOk)
                return Result<Moved>.Refused(done.Refusals);
            work.Audit(answer.Minutes is null ? "call seen" : "call put off", call.Key, "", Words(answer));
            work.Touch(Topic.Call, call.Id);
        }
        var text = answer.Minutes is { } put ? $"Put off for {put} min; it calls again by itself." : "Seen: the Wall is quiet about it.";
        return new Moved(text, []);
    }

    private static string Words(CallAnswer answer) => answer.Minutes is { } minutes ? $"{minutes} min: {answer.Reason?.Trim()}" : "";
}

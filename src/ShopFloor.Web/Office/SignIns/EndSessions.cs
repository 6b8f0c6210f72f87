using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Office.SignIns;

/// <summary>
/// Ends all running sessions of a sign-in, on every device: each carries the stamp that it began with, and open pages look at it every half minute.
/// Everybody may end their own, an owner anybody's.
/// </summary>
public sealed class EndSessions(CommandRunner runner) : IUseCase
{
    /// <summary>Does it.</summary>
    /// <param name="asked">Who asks.</param>
    /// <param name="worker">Whose sessions.</param>
    /// <param name="cancel">Ends the wait.</param>
    public Task<Result<Done>> RunAsync(Asked asked, Guid worker, CancellationToken cancel = default) =>
        runner.RunAsync<Guid, Done>(
            nameof(EndSessions),
            asked.Worker == worker ? Allowed.Counter : Allowed.Owner,
            asked,
            worker,
            async work =>
            {
                if (await work.Context.Users.FirstOrDefaultAsync(u => u.Id == worker, cancel) is not { } found)
                    return new Refusal("sign-in-missing", "This sign-in is no longer there.");
                SignInRules.EndSessions(found);
                SignInRules.Note(work, ("sessions ended", found), null, null);
                return default(Done);
            },
            cancel
        );
}

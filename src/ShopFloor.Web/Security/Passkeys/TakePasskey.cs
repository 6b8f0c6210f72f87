using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.SignIns;

namespace ShopFloor.Web.Security.Passkeys;

/// <summary>A passkey that shall go.</summary>
/// <param name="Worker">Whose.</param>
/// <param name="Key">The credential's id as text.</param>
public sealed record LostPasskey(Guid Worker, string Key);

/// <summary>
/// Takes a passkey away and ends the running sessions of its sign-in, for one may have begun with it. Everybody may take away their own, an owner
/// anybody's.
/// </summary>
public sealed class TakePasskey(CommandRunner runner) : IUseCase
{
    /// <summary>Does it, or says what is wrong.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, LostPasskey lost, CancellationToken cancel = default) =>
        runner.RunAsync<LostPasskey, Done>(
            nameof(TakePasskey),
            asked.Worker == lost.Worker ? Allowed.Counter : Allowed.Owner,
            asked,
            lost,
            async work =>
            {
                var row = await PasskeyRules.FindAsync(work.Context, lost.Worker, lost.Key, cancel);
                if (row is null || await work.Context.Users.FirstOrDefaultAsync(u => u.Id == lost.Worker, cancel) is not { } worker)
                    return PasskeyRules.Gone;
                work.Context.UserTokens.Remove(row);
                SignInRules.EndSessions(worker);
                SignInRules.Note(work, ("passkey taken away", worker), null, null);
                return default(Done);
            },
            cancel
        );
}

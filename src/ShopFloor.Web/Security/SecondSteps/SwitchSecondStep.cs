using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.SignIns;

namespace ShopFloor.Web.Security.SecondSteps;

/// <summary>What is made for a second step and shown once; none of it is part of what a command keeps.</summary>
/// <param name="Key">The app's key.</param>
/// <param name="Last">The step of the code that was typed to show that the app has the key.</param>
/// <param name="Codes">Recovery codes.</param>
public sealed record NewSecondStep(byte[] Key, long Last, IReadOnlyList<string> Codes);

/// <summary>Switches on the second step of the worker who asks. Sessions that began without it end.</summary>
public sealed class SwitchOnSecondStep(CommandRunner runner, SecretBox box) : IUseCase
{
    /// <summary>Does it.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, NewSecondStep made, CancellationToken cancel = default) =>
        runner.RunAsync<Guid?, Done>(
            nameof(SwitchOnSecondStep),
            Allowed.Counter,
            asked,
            asked.Worker,
            async work =>
            {
                if (await work.Context.Users.FirstOrDefaultAsync(u => u.Id == asked.Worker, cancel) is not { } worker)
                    return new Refusal("sign-in-missing", "This sign-in is no longer there.");
                if (worker.TwoFactorEnabled)
                    return new Refusal("second-step-on", "The second step is switched on already.");
                work.Context.UserTokens.RemoveRange(await SecondStepRows.Of(work.Context, worker.Id).ToListAsync(cancel));
                var closed = box.Close(Convert.ToBase64String(made.Key));
                work.Context.UserTokens.AddRange(SecondStepRows.Make(worker.Id, closed, made.Last, made.Codes));
                worker.TwoFactorEnabled = true;
                SignInRules.EndSessions(worker);
                SignInRules.Note(work, ("second step switched on", worker), null, null);
                return default(Done);
            },
            cancel
        );
}

/// <summary>Switches a second step off: everybody their own, an owner anybody's. Its running sessions end.</summary>
public sealed class SwitchOffSecondStep(CommandRunner runner) : IUseCase
{
    /// <summary>Does it.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, Guid whose, CancellationToken cancel = default) =>
        runner.RunAsync<Guid, Done>(
            nameof(SwitchOffSecondStep),
            asked.Worker == whose ? Allowed.Counter : Allowed.Owner,
            asked,
            whose,
            async work =>
            {
                if (await work.Context.Users.FirstOrDefaultAsync(u => u.Id == whose, cancel) is not { } worker)
                    return new Refusal("sign-in-missing", "This sign-in is no longer there.");
                work.Context.UserTokens.RemoveRange(await SecondStepRows.Of(work.Context, whose).ToListAsync(cancel));
                worker.TwoFactorEnabled = false;
                SignInRules.EndSessions(worker);
                SignInRules.Note(work, ("second step switched off", worker), null, null);
                return default(Done);
            },
            cancel
        );
}

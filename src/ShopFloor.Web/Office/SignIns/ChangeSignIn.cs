using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Office.SignIns;

/// <summary>A sign-in as it shall be from now on.</summary>
/// <param name="Worker">Which.</param>
/// <param name="Seen">What the page showed of it: where it is another now, nothing is changed.</param>
/// <param name="Facts">What it may do, and whose it is.</param>
/// <param name="HasNewPassword">A new password comes along.</param>
public sealed record SignInChange(Guid Worker, SignInFacts Seen, SignInFacts Facts, bool HasNewPassword);

/// <summary>Changes what a sign-in may do, gives it a new password, takes it away or gives it back. Its running sessions end.</summary>
public sealed class ChangeSignIn(CommandRunner runner) : IUseCase
{
    /// <summary>Does it, or names every field that is wrong.</summary>
    /// <param name="asked">Who asks.</param>
    /// <param name="change">What is wanted.</param>
    /// <param name="password">The new password; null: the one there is stays. It is no part of what the command keeps.</param>
    /// <param name="cancel">Ends the wait.</param>
    public Task<Result<Done>> RunAsync(Asked asked, SignInChange change, string? password = null, CancellationToken cancel = default) =>
        runner.RunAsync<SignInChange, Done>(
            nameof(ChangeSignIn),
            Allowed.Owner,
            asked,
            change with
            {
                HasNewPassword = password is not null,
            },
            work => DecideAsync(work, change, password, cancel),
            cancel
        );

    private static async Task<Result<Done>> DecideAsync(CommandWork work, SignInChange change, string? password, CancellationToken cancel)
    {
        var worker = await work.Context.Users.FirstOrDefaultAsync(u => u.Id == change.Worker, cancel);
        if (worker is null)
            return new Refusal("sign-in-missing", "This sign-in is no longer there.");
        var before = await SignInView.FactsAsync(work.Context, worker, cancel);
        if (before != change.Seen)
            return CommandWork.ChangedMeanwhile($"the sign-in {worker.UserName}");
        var after = change.Facts with { Display = change.Facts.Display.Trim() };
        List<Refusal> faults = [.. SignInRules.Faults(after)];
        if (IsOwner(before) && !IsOwner(after) && await OwnersAsync(work.Context, cancel) <= 1)
            faults.Add(new Refusal("last-owner", "This is the only owner. Make somebody else an owner first.", nameof(SignInFacts.Role)));
        worker.DisplayName = after.Display;
        if (password is not null && SignInRules.SetPassword(worker, password) is { } unfit)
            faults.Add(unfit);
        if (faults.Count > 0)
            return Result<Done>.Refused(faults);
        if (before == after && password is null)
            return default(Done);
        (worker.Person, worker.IsActive) = (await SignInRules.PersonAsync(work.Context, after.Person, cancel), after.IsActive);
        await SignInRules.SetRoleAsync(work.Context, worker.Id, after.Role, cancel);
        // Who only got another name on screens need not sign in again.
        if (password is not null || (before.Role, before.IsActive) != (after.Role, after.IsActive))
            SignInRules.EndSessions(worker);
        if (before != after)
            SignInRules.Note(work, (Word(before, after), worker), before, after);
        if (password is not null)
            SignInRules.Note(work, ("new password", worker), null, null);
        return default(Done);
    }

    private static string Word(SignInFacts before, SignInFacts after) =>
        (before.IsActive, after.IsActive) switch
        {
            (true, false) => "sign-in taken away",
            (false, true) => "sign-in given back",
            _ => before.Role == after.Role ? "sign-in changed" : "rights changed",
        };

    private static bool IsOwner(SignInFacts facts) => facts is { IsActive: true, Role: WorkerRole.Owner };

    private static Task<int> OwnersAsync(ShopContext context, CancellationToken cancel) =>
        (
            from u in context.Users
            where u.IsActive
            join ur in context.UserRoles on u.Id equals ur.UserId
            join r in context.Roles on ur.RoleId equals r.Id
            where r.Name == WorkerRole.Owner
            select u.Id
        ).CountAsync(cancel);
}

using System.Text;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Office.SignIns;

/// <summary>A sign-in to be given.</summary>
/// <param name="Name">What is typed at the sign-in.</param>
/// <param name="Facts">What it may do, and whose it is.</param>
public sealed record NewSignIn(string Name, SignInFacts Facts);

/// <summary>Lets somebody, or a device, sign in. The password is no part of what the command keeps.</summary>
public sealed class GiveSignIn(CommandRunner runner) : IUseCase
{
    /// <summary>Does it, or names every field that is wrong.</summary>
    /// <returns>The id of the sign-in.</returns>
    public Task<Result<Guid>> RunAsync(Asked asked, NewSignIn input, string password, CancellationToken cancel = default) =>
        runner.RunAsync<NewSignIn, Guid>(
            nameof(GiveSignIn),
            Allowed.Owner,
            asked,
            input,
            work => DecideAsync(work, input, password, cancel),
            cancel
        );

    private static async Task<Result<Guid>> DecideAsync(CommandWork work, NewSignIn input, string password, CancellationToken cancel)
    {
        var name = input.Name.Trim();
        var facts = input.Facts with { Display = input.Facts.Display.Trim(), IsActive = true };
        List<Refusal> faults = [.. SignInRules.Faults(facts)];
        if (name.Length is 0 or > 100 || name.Any(char.IsControl))
            faults.Add(new Refusal("name-unfit", "Enter a name of 1 to 100 characters.", nameof(input.Name)));
        var normal = name.Normalize(NormalizationForm.FormKC).ToUpperInvariant();
        if (await work.Context.Users.AnyAsync(u => u.NormalizedUserName == normal, cancel))
            faults.Add(new Refusal("name-taken", "Somebody already signs in with this name. Choose another.", nameof(input.Name)));
        var worker = new Worker
        {
            Id = Guid.CreateVersion7(),
            UserName = name,
            NormalizedUserName = normal,
            DisplayName = facts.Display,
            Person = await SignInRules.PersonAsync(work.Context, facts.Person, cancel),
            LockoutEnabled = true,
        };
        if (SignInRules.SetPassword(worker, password) is { } unfit)
            faults.Add(unfit);
        if (faults.Count > 0)
            return Result<Guid>.Refused(faults);
        SignInRules.EndSessions(worker);
        work.Context.Users.Add(worker);
        await SignInRules.SetRoleAsync(work.Context, worker.Id, facts.Role, cancel);
        SignInRules.Note(work, ("sign-in given", worker), null, facts);
        return worker.Id;
    }
}

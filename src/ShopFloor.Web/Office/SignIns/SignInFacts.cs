using System.Text.Json;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Office.SignIns;

/// <summary>What the owner says of a sign-in, all but its password.</summary>
/// <param name="Display">Name on screens and in lists.</param>
/// <param name="Role">One of <see cref="WorkerRole.All"/>.</param>
/// <param name="Person">Code of the person in the plan; empty for a device.</param>
/// <param name="IsActive">False: taken away; running sessions end.</param>
public sealed record SignInFacts(string Display, string Role, string Person, bool IsActive);

/// <summary>What both making and changing a sign-in need.</summary>
internal static class SignInRules
{
    private static readonly PasswordHasher<Worker> Hasher = new();

    /// <summary>Faults of what was entered, beside their fields.</summary>
    public static IEnumerable<Refusal> Faults(SignInFacts facts)
    {
        if (facts.Display.Trim().Length is 0 or > 100)
            yield return new Refusal("display", "Enter a name of 1 to 100 characters for screens and lists.", nameof(facts.Display));
        if (!WorkerRole.All.Contains(facts.Role, StringComparer.Ordinal))
            yield return new Refusal("role", "Choose what the sign-in may do.", nameof(facts.Role));
    }

    /// <summary>Gives it a password, or says what is wrong with it.</summary>
    public static Refusal? SetPassword(Worker worker, string password)
    {
        if (PasswordRule.Fault(password, [worker.UserName, worker.DisplayName]) is { } fault)
            return new Refusal("password-unfit", fault, "Password");
        worker.PasswordHash = Hasher.HashPassword(worker, password);
        (worker.AccessFailedCount, worker.LockoutEnd) = (0, null);
        return null;
    }

    /// <summary>Ends its running sessions: each carries the stamp that it began with.</summary>
    public static void EndSessions(Worker worker) => worker.SecurityStamp = Guid.NewGuid().ToString("N");

    /// <summary>The person by the code; null for none or an unknown one.</summary>
    public static async Task<PersonId?> PersonAsync(ShopContext context, string code, CancellationToken cancel) =>
        code.Length == 0 ? null : await context.People.Where(p => p.Code == code).Select(p => (PersonId?)p.Id).FirstOrDefaultAsync(cancel);

    /// <summary>Puts the sign-in into this role and no other.</summary>
    public static async Task SetRoleAsync(ShopContext context, Guid worker, string role, CancellationToken cancel)
    {
        var found = await context.Roles.FirstOrDefaultAsync(r => r.Name == role, cancel);
        if (found is null)
        {
            found = new WorkerRole
            {
                Id = Guid.CreateVersion7(),
                Name = role,
                NormalizedName = role.ToUpperInvariant(),
            };
            context.Roles.Add(found);
        }
        var has = await context.UserRoles.Where(r => r.UserId == worker).ToListAsync(cancel);
        if (has.Count == 1 && has[0].RoleId == found.Id)
            return;
        context.UserRoles.RemoveRange(has);
        context.UserRoles.Add(new IdentityUserRole<Guid> { UserId = worker, RoleId = found.Id });
    }

    /// <summary>Writes it into the audit list and the security log.</summary>
    public static void Note(CommandWork work, (string What, Worker Of) done, SignInFacts? before, SignInFacts? after)
    {
        work.Audit(done.What, done.Of.UserName!, Text(before), Text(after));
        work.NoteSafety(done.What, done.Of.Id.ToString());
        work.Touch(Live.Topic.Person, done.Of.Id);
    }

    private static string Text(SignInFacts? facts) => facts is null ? "" : JsonSerializer.Serialize(facts, JsonForms.Default);
}

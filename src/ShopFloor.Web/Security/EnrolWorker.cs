using Microsoft.AspNetCore.Identity;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;

namespace ShopFloor.Web.Security;

/// <summary>A sign-in to be made.</summary>
/// <param name="Name">What is typed at the sign-in.</param>
/// <param name="Password">Judged by <see cref="PasswordRule"/>.</param>
/// <param name="Role">One of <see cref="WorkerRole.All"/>.</param>
/// <param name="Display">Name on screens; the name itself when null.</param>
/// <param name="Person">The person in the plan, null for a device.</param>
public sealed record NewWorker(string Name, string Password, string Role, string? Display = null, PersonId? Person = null);

/// <summary>Somebody new may sign in. The caller has the write gate and the right to do so.</summary>
public sealed class EnrolWorker(UserManager<Worker> users, RoleManager<WorkerRole> roles, ShopContext context, TimeProvider time)
{
    /// <summary>Makes the sign-in with one role, or refuses what is wrong with name or password; nothing is left half made.</summary>
    public async Task<Result<Worker>> RunAsync(NewWorker wanted, CancellationToken cancel)
    {
        var worker = new Worker
        {
            Id = Guid.CreateVersion7(),
            UserName = wanted.Name,
            DisplayName = wanted.Display ?? wanted.Name,
            Person = wanted.Person,
        };
        if (wanted.Name.Length is 0 or > 100 || wanted.Name.Any(char.IsControl))
            return NameUnfit;
        await using var all = await context.Database.BeginTransactionAsync(cancel);
        await EnsureRolesAsync();
        var created = await users.CreateAsync(worker, wanted.Password);
        if (!created.Succeeded)
            return Result<Worker>.Refused([.. created.Errors.Select(ToRefusal)]);
        Must(await users.AddToRoleAsync(worker, wanted.Role));
        context.Audit.Add(new AuditEntry(Guid.CreateVersion7(), time.GetUtcNow(), "system", "sign-in given", wanted.Name, "", wanted.Role));
        await context.SaveChangesAsync(cancel);
        await all.CommitAsync(cancel);
        return worker;
    }

    private async Task EnsureRolesAsync()
    {
        foreach (var role in WorkerRole.All)
            if (!await roles.RoleExistsAsync(role))
                Must(await roles.CreateAsync(new WorkerRole { Id = Guid.CreateVersion7(), Name = role }));
    }

    private static void Must(IdentityResult result)
    {
        if (!result.Succeeded)
            throw new InvalidOperationException($"Enrolling failed: {string.Join("; ", result.Errors.Select(e => e.Code))}");
    }

    private static Refusal NameUnfit => new("name-unfit", "Enter a name of 1 to 100 characters.", "Name");

    private static Refusal ToRefusal(IdentityError error) =>
        error.Code switch
        {
            nameof(IdentityErrorDescriber.DuplicateUserName) => new Refusal(
                "name-taken",
                "Somebody already signs in with this name. Choose another.",
                "Name"
            ),
            nameof(IdentityErrorDescriber.InvalidUserName) => NameUnfit,
            _ => new Refusal("password-unfit", error.Description, "Password"),
        };
}

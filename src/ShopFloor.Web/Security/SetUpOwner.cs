using Microsoft.AspNetCore.Identity;
using ShopFloor.Data;
using ShopFloor.Domain;

namespace ShopFloor.Web.Security;

/// <summary>The first owner takes the program over, with the code from the log.</summary>
public sealed class SetUpOwner(
    UserManager<Worker> users,
    RoleManager<WorkerRole> roles,
    WorkerSignIn signIn,
    ShopContext context,
    WriteGate gate,
    SetupCode code
)
{
    /// <summary>True when there is an owner: the page is no longer there then.</summary>
    public Task<bool> IsDoneAsync(CancellationToken cancel) => FirstStart.HasOwnerAsync(context, cancel);

    /// <summary>Makes the owner and signs in. Refused when the code is not good or an owner is already there.</summary>
    public async Task<Result<Worker>> RunAsync(string? typedCode, string? name, string? password, CancellationToken cancel)
    {
        using var turn = await gate.EnterAsync(cancel);
        if (await FirstStart.HasOwnerAsync(context, cancel))
            return new Refusal("owner-exists", "The shop already has an owner. Sign in instead.");
        if (!code.IsGood(typedCode ?? ""))
            return new Refusal(
                "setup-code-unfit",
                "This is not the code, or its time is over. Look for the last one in the program's log; a new start makes a new one.",
                "Code"
            );
        var made = await MakeAsync((name ?? "").Trim(), password ?? "", cancel);
        if (!made.IsOk)
            return made;
        code.Use();
        await signIn.SignInAsync(made.Value, isPersistent: false);
        return made;
    }

    private async Task<Result<Worker>> MakeAsync(string name, string password, CancellationToken cancel)
    {
        var worker = new Worker
        {
            Id = Guid.CreateVersion7(),
            UserName = name,
            DisplayName = name,
        };
        await using var all = await context.Database.BeginTransactionAsync(cancel);
        foreach (var role in WorkerRole.All)
            if (!await roles.RoleExistsAsync(role))
                _ = await roles.CreateAsync(new WorkerRole { Id = Guid.CreateVersion7(), Name = role });
        var created = await users.CreateAsync(worker, password);
        if (!created.Succeeded)
            return Result<Worker>.Refused([.. created.Errors.Select(ToRefusal)]);
        var named = await users.AddToRoleAsync(worker, WorkerRole.Owner);
        if (!named.Succeeded)
            throw new InvalidOperationException($"The owner's role cannot be given: {string.Join("; ", named.Errors.Select(e => e.Code))}");
        await all.CommitAsync(cancel);
        return worker;
    }

    private static Refusal ToRefusal(IdentityError error) =>
        error.Code is nameof(IdentityErrorDescriber.InvalidUserName) or nameof(IdentityErrorDescriber.DuplicateUserName)
            ? new Refusal("name-unfit", "Enter a name of 1 to 100 characters: letters, digits, spaces, dots and hyphens.", "Name")
            : new Refusal("password-unfit", error.Description, "Password");
}

using ShopFloor.Data;
using ShopFloor.Domain;

namespace ShopFloor.Web.Security;

/// <summary>The first owner takes the program over, with the code from the log.</summary>
public sealed class SetUpOwner(EnrolWorker enrol, WorkerSignIn signIn, ShopContext context, WriteGate gate, SetupCode code)
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
        var made = await enrol.RunAsync(new NewWorker((name ?? "").Trim(), password ?? "", WorkerRole.Owner), cancel);
        if (!made.IsOk)
            return made;
        code.Use();
        await signIn.SignInAsync(made.Value, isPersistent: false);
        return made;
    }
}

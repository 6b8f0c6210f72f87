using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.SignIns;

namespace ShopFloor.Web.Security.Passkeys;

/// <summary>A passkey to be kept.</summary>
/// <param name="Name">What its worker calls it.</param>
/// <param name="Key">The credential's id as text.</param>
public sealed record NewPasskey(string Name, string Key);

/// <summary>Keeps a passkey of the worker who asks; what the device signed was judged before.</summary>
public sealed class KeepPasskey(CommandRunner runner) : IUseCase
{
    /// <summary>Does it, or says what is wrong.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, string name, UserPasskeyInfo passkey, CancellationToken cancel = default)
    {
        var wanted = new NewPasskey(name.Trim(), StoredPasskey.KeyOf(passkey.CredentialId));
        return runner.RunAsync<NewPasskey, Done>(
            nameof(KeepPasskey),
            Allowed.Counter,
            asked,
            wanted,
            work => DecideAsync(work, asked.Worker, wanted, passkey, cancel),
            cancel
        );
    }

    private static async Task<Result<Done>> DecideAsync(
        CommandWork work,
        Guid? by,
        NewPasskey wanted,
        UserPasskeyInfo passkey,
        CancellationToken cancel
    )
    {
        if (await work.Context.Users.FirstOrDefaultAsync(u => u.Id == by, cancel) is not { } worker)
            return new Refusal("sign-in-missing", "This sign-in is no longer there.");
        if (PasskeyRules.Fault(wanted.Name, "PasskeyName") is { } fault)
            return fault;
        var keys = WorkerStore.PasskeysIn(work.Context);
        if (await keys.CountAsync(t => t.UserId == worker.Id, cancel) >= PasskeyRules.Most)
            return PasskeyRules.Full;
        if (await keys.AnyAsync(t => t.Name == wanted.Key, cancel))
            return new Refusal("passkey-there", "This device already keeps a passkey for you.");
        var row = StoredPasskey.RowOf(worker.Id, passkey);
        row.Value = StoredPasskey.Write(StoredPasskey.Read(row) with { Name = wanted.Name, Since = work.Now });
        work.Context.UserTokens.Add(row);
        SignInRules.Note(work, ("passkey added", worker), null, null);
        return default(Done);
    }
}

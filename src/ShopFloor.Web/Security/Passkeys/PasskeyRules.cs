using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;

namespace ShopFloor.Web.Security.Passkeys;

/// <summary>What adding, naming and taking away passkeys share.</summary>
internal static class PasskeyRules
{
    /// <summary>So many passkeys a sign-in may have.</summary>
    public const int Most = 10;

    /// <summary>The longest name.</summary>
    public const int MostLetters = 50;

    /// <summary>What is wrong with a name.</summary>
    public static Refusal? Fault(string name, string field) =>
        name.Length is 0 or > MostLetters || name.Any(char.IsControl)
            ? new Refusal("passkey-name", "Give the passkey a name of 1 to 50 characters, such as the device that keeps it.", field)
            : null;

    /// <summary>Said when there are as many as there may be.</summary>
    public static Refusal Full => new("passkey-many", "A sign-in has at most 10 passkeys. Take one away first.");

    /// <summary>Said when it went meanwhile.</summary>
    public static Refusal Gone => new("passkey-missing", "This passkey is no longer there.");

    /// <summary>Said when the session is not a new one.</summary>
    public static Refusal NotNew => new("sign-in-old", "Show first that it is you: sign in anew.");

    /// <summary>A worker's passkey by its key.</summary>
    public static Task<IdentityUserToken<Guid>?> FindAsync(ShopContext context, Guid worker, string key, CancellationToken cancel) =>
        WorkerStore.PasskeysIn(context).FirstOrDefaultAsync(t => t.UserId == worker && t.Name == key, cancel);
}

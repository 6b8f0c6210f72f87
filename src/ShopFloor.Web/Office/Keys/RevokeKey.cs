using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Office.Keys;

/// <summary>Which key.</summary>
public sealed record KeyWish(Guid Key);

/// <summary>Takes a key or a calendar link away; it stops with the next call.</summary>
public sealed class RevokeKey(CommandRunner runner) : IUseCase
{
    internal const string What = "key taken away";

    /// <summary>Does it.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, KeyWish wish, CancellationToken cancel = default) =>
        runner.RunAsync<KeyWish, Done>(
            nameof(RevokeKey),
            Allowed.Owner,
            asked,
            wish,
            async work =>
            {
                if (await work.Context.AccessKeys.FirstOrDefaultAsync(k => k.Id == wish.Key, cancel) is not { } key)
                    return new Refusal("key-missing", "This key is no longer there.");
                key.Revoke(work.Now);
                work.Audit(What, key.Name, string.Join(", ", key.Scopes), "");
                work.NoteSafety(What, key.Id.ToString());
                work.Touch(Topic.Settings, key.Id);
                return default(Done);
            },
            cancel
        );
}

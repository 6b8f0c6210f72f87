using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Identity.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore;

namespace ShopFloor.Data;

/// <summary>Identity's store of workers, with their passkeys among the tokens: those have a table already, passkeys have none of their own.</summary>
public sealed class WorkerStore(ShopContext context, IdentityErrorDescriber? describer = null)
    : UserStore<Worker, WorkerRole, ShopContext, Guid>(context, describer)
{
    /// <summary>All passkeys of a database.</summary>
    public static IQueryable<IdentityUserToken<Guid>> PasskeysIn(ShopContext context) =>
        context.UserTokens.Where(t => t.LoginProvider == StoredPasskey.Provider);

    public override async Task AddOrUpdatePasskeyAsync(Worker user, UserPasskeyInfo passkey, CancellationToken cancellationToken)
    {
        if (await RowAsync(user.Id, passkey.CredentialId, cancellationToken) is { } row)
            row.Value = StoredPasskey.TextOf(passkey);
        else
            Context.UserTokens.Add(StoredPasskey.RowOf(user.Id, passkey));
    }

    public override async Task<IList<UserPasskeyInfo>> GetPasskeysAsync(Worker user, CancellationToken cancellationToken)
    {
        var rows = await PasskeysIn(Context).AsNoTracking().Where(t => t.UserId == user.Id).ToListAsync(cancellationToken);
        return [.. rows.Select(StoredPasskey.ToInfo)];
    }

    public override async Task<Worker?> FindByPasskeyIdAsync(byte[] credentialId, CancellationToken cancellationToken)
    {
        var key = StoredPasskey.KeyOf(credentialId);
        var worker = await PasskeysIn(Context)
            .Where(t => t.Name == key)
            .Select(t => (Guid?)t.UserId)
            .FirstOrDefaultAsync(cancellationToken);
        return worker is { } id ? await Users.FirstOrDefaultAsync(u => u.Id == id, cancellationToken) : null;
    }

    public override async Task<UserPasskeyInfo?> FindPasskeyAsync(Worker user, byte[] credentialId, CancellationToken cancellationToken) =>
        await RowAsync(user.Id, credentialId, cancellationToken) is { } row ? StoredPasskey.ToInfo(row) : null;

    public override async Task RemovePasskeyAsync(Worker user, byte[] credentialId, CancellationToken cancellationToken)
    {
        if (await RowAsync(user.Id, credentialId, cancellationToken) is { } row)
            Context.UserTokens.Remove(row);
    }

    private Task<IdentityUserToken<Guid>?> RowAsync(Guid worker, byte[] credential, CancellationToken cancel)
    {
        var key = StoredPasskey.KeyOf(credential);
        return PasskeysIn(Context).FirstOrDefaultAsync(t => t.UserId == worker && t.Name == key, cancel);
    }
}

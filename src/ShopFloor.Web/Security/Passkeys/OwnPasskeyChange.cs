using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Security.Passkeys;

/// <summary>Adds and takes away passkeys of the worker whose request this is. Both want a session that began lately.</summary>
public sealed class OwnPasskeyChange(
    WorkerSignIn signIn,
    OwnSession session,
    ShopContext context,
    PasskeyView view,
    KeepPasskey keep,
    TakePasskey take,
    SecurityLog log
)
{
    /// <summary>What the browser is to ask the device for, JSON; or why not.</summary>
    public async Task<Result<string>> BeginAsync(Guid worker, CancellationToken cancel)
    {
        if (!await session.IsNewAsync())
            return PasskeyRules.NotNew;
        if ((await view.LoadAsync(worker, cancel)).Count >= PasskeyRules.Most)
            return PasskeyRules.Full;
        var found = await context.Users.AsNoTracking().SingleAsync(u => u.Id == worker, cancel);
        var entity = new PasskeyUserEntity
        {
            Id = worker.ToString(),
            Name = found.UserName!,
            DisplayName = found.DisplayName,
        };
        return await signIn.MakePasskeyCreationOptionsAsync(entity);
    }

    /// <summary>Keeps what the device made.</summary>
    /// <param name="worker">Who is signed in here.</param>
    /// <param name="name">What it shall be called.</param>
    /// <param name="credential">What the browser answered, JSON.</param>
    /// <param name="cancel">Ends the wait.</param>
    public async Task<Result<Done>> AddAsync(Guid worker, string? name, string? credential, CancellationToken cancel)
    {
        if (await AttestAsync(credential) is { Succeeded: true } made && made.UserEntity.Id == worker.ToString())
            return await keep.RunAsync(Asked.By(worker), name ?? "", made.Passkey, cancel);
        await log.NoteAsync("passkey added", worker.ToString(), worker.ToString(), isGood: false, cancel);
        return new Refusal("passkey-not-made", "The passkey could not be added. Try again.");
    }

    /// <summary>Takes one away. The other sessions end; this one goes on.</summary>
    public async Task<Result<Done>> TakeAsync(Guid worker, string? key, CancellationToken cancel)
    {
        if (!await session.IsNewAsync())
            return PasskeyRules.NotNew;
        var taken = await take.RunAsync(Asked.By(worker), new LostPasskey(worker, key ?? ""), cancel);
        if (!taken.IsOk)
            return taken;
        await session.GoOnAsync(worker, cancel);
        return taken;
    }

    private async Task<PasskeyAttestationResult?> AttestAsync(string? credential)
    {
        if (string.IsNullOrEmpty(credential))
            return null;
        try
        {
            return await signIn.PerformPasskeyAttestationAsync(credential);
        }
        // Nothing was asked of this browser, or its cookie's five minutes are over.
        catch (InvalidOperationException)
        {
            return null;
        }
    }
}

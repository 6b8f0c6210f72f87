using System.Text.Json;
using Microsoft.AspNetCore.Identity;
using ShopFloor.Data;
using ShopFloor.Domain;

namespace ShopFloor.Web.Security.Passkeys;

/// <summary>A worker signs in by a passkey. The rules are those of <see cref="SignIn"/>: who rests or was taken away stays out.</summary>
public sealed partial class PasskeySignIn(
    UserManager<Worker> users,
    SignInTries tries,
    WorkerSignIn signIn,
    WriteGate gate,
    SecurityLog log,
    ILogger<PasskeySignIn> logger
)
{
    private const string What = "sign-in by passkey";

    /// <summary>Longer ones are no answer of a passkey (common practice, no source).</summary>
    private const int Most = 20_000;

    /// <summary>Signs in and starts a new session, or refuses in the same words whatever was wrong.</summary>
    /// <param name="credential">What the browser answered, JSON.</param>
    /// <param name="stay">True on a screen of the shop's own that stays signed in when it is switched off.</param>
    /// <param name="cancel">Ends the wait for the gate.</param>
    public async Task<Result<Worker>> RunAsync(string? credential, bool stay, CancellationToken cancel)
    {
        if (string.IsNullOrEmpty(credential) || credential.Length > Most)
            return Unfit;
        var (answer, isLate) = await AssertAsync(credential);
        if (isLate)
            return new Refusal("passkey-late", "That took too long. Press the button again.");
        var worker = answer is { Succeeded: true } ? answer.User : await OwnerOfAsync(credential);
        if (worker is not { IsActive: true })
        {
            await log.NoteAsync(What, "", worker?.Id.ToString() ?? "unknown passkey", isGood: false, cancel);
            return Unfit;
        }
        using var turn = await gate.EnterAsync(cancel);
        return await InTurnAsync(worker, answer is { Succeeded: true } ? answer.Passkey : null, stay, cancel);
    }

    private async Task<Result<Worker>> InTurnAsync(Worker worker, UserPasskeyInfo? passkey, bool stay, CancellationToken cancel)
    {
        if (!await tries.IsStillThereAsync(worker, cancel))
            return Unfit;
        var isResting = await users.IsLockedOutAsync(worker);
        if (isResting || passkey is null || await users.GetPasskeyAsync(worker, passkey.CredentialId) is null)
        {
            LogRefused(logger, worker.Id, isResting);
            if (!isResting)
                await tries.CountWrongAsync(worker);
            await log.NoteInTurnAsync(isResting ? What + " while resting" : What, "", worker.Id.ToString(), isGood: false, cancel);
            return Unfit;
        }
        // Notes how often the device has signed: a copy of it that lags behind is refused.
        await tries.WriteAsync(worker, w => users.AddOrUpdatePasskeyAsync(w, passkey));
        await tries.ForgetAsync(worker);
        await signIn.SignInAsync(worker, stay);
        LogSignedIn(logger, worker.Id);
        await log.NoteInTurnAsync(What, worker.Id.ToString(), worker.Id.ToString(), isGood: true, cancel);
        return worker;
    }

    private async Task<(PasskeyAssertionResult<Worker>? Answer, bool IsLate)> AssertAsync(string credential)
    {
        try
        {
            return (await signIn.PerformPasskeyAssertionAsync(credential), false);
        }
        // Nothing was asked of this browser, or its cookie's five minutes are over.
        catch (InvalidOperationException)
        {
            return (null, true);
        }
    }

    /// <summary>Whose passkey a refused answer names, so that it counts for that sign-in.</summary>
    private async Task<Worker?> OwnerOfAsync(string credential)
    {
        try
        {
            using var read = JsonDocument.Parse(credential);
            var id = read.RootElement.TryGetProperty("id", out var said) ? StoredPasskey.IdOf(said.GetString()) : null;
            return id is null ? null : await users.FindByPasskeyIdAsync(id);
        }
        catch (Exception e) when (e is JsonException or InvalidOperationException)
        {
            return null;
        }
    }

    private static Refusal Unfit => new("passkey-unfit", "This passkey does not fit here. Try again, or sign in with name and password.");

    [LoggerMessage(Level = LogLevel.Information, Message = "Sign-in of {WorkerId} by passkey")]
    private static partial void LogSignedIn(ILogger logger, Guid workerId);

    [LoggerMessage(Level = LogLevel.Warning, Message = "Passkey of {WorkerId} refused, resting: {IsResting}")]
    private static partial void LogRefused(ILogger logger, Guid workerId, bool isResting);
}

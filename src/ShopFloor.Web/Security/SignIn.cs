using Microsoft.AspNetCore.Identity;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Security.SecondSteps;

namespace ShopFloor.Web.Security;

/// <summary>A worker signs in by name and password.</summary>
public sealed partial class SignIn(
    UserManager<Worker> users,
    SignInTries tries,
    WorkerSignIn signIn,
    HalfSignIn half,
    IPasswordHasher<Worker> hasher,
    WriteGate gate,
    SecurityLog log,
    ILogger<SignIn> logger
)
{
    /// <summary>Hash of a password nobody has: an unknown name must take as long as a wrong password.</summary>
    private static readonly Lazy<string> Nobody = new(() =>
        new PasswordHasher<Worker>().HashPassword(new Worker(), Guid.NewGuid().ToString())
    );

    /// <summary>
    /// Signs in and starts a new session, or refuses in the same words whatever was wrong. A worker with a second step is not signed in yet: see
    /// <see cref="SecondStep"/>.
    /// </summary>
    /// <param name="name">As typed.</param>
    /// <param name="password">As typed or pasted.</param>
    /// <param name="stay">True on a screen of the shop's own that stays signed in when it is switched off.</param>
    public async Task<Result<Worker>> RunAsync(string? name, string? password, bool stay, CancellationToken cancel)
    {
        var faults = Missing(name, password).ToList();
        if (faults.Count > 0)
            return Result<Worker>.Refused(faults);
        var worker = await users.FindByNameAsync(name!.Trim());
        var (hash, fits) = (worker?.PasswordHash, Fits(worker, password!));
        if (worker is null || !worker.IsActive)
        {
            LogUnknown(logger);
            await log.NoteAsync("sign-in", "", worker?.Id.ToString() ?? "unknown name", isGood: false, cancel);
            return Unfit;
        }
        // The tries are counted in the database, so this writes and waits its turn; what others tried meanwhile counts too.
        using var turn = await gate.EnterAsync(cancel);
        if (!await tries.IsStillThereAsync(worker, cancel))
            return Unfit;
        if (worker.PasswordHash != hash)
            fits = Fits(worker, password!);
        return await InTurnAsync(worker, fits, stay, cancel);
    }

    private async Task<Result<Worker>> InTurnAsync(Worker worker, bool fits, bool stay, CancellationToken cancel)
    {
        if (await users.IsLockedOutAsync(worker))
        {
            LogLocked(logger, worker.Id);
            await log.NoteInTurnAsync("sign-in while resting", "", worker.Id.ToString(), isGood: false, cancel);
            return Unfit;
        }
        if (!fits)
        {
            await tries.CountWrongAsync(worker);
            LogWrong(logger, worker.Id);
            await log.NoteInTurnAsync("sign-in", "", worker.Id.ToString(), isGood: false, cancel);
            return Unfit;
        }
        if (worker.TwoFactorEnabled)
        {
            // Wrong tries go on counting until the second step is done, else each right password would allow five more codes.
            await half.BeginAsync(worker, stay);
            await log.NoteInTurnAsync("sign-in, first step", "", worker.Id.ToString(), isGood: true, cancel);
            return worker;
        }
        await tries.ForgetAsync(worker);
        await signIn.SignInAsync(worker, stay);
        LogSignedIn(logger, worker.Id);
        await log.NoteInTurnAsync("sign-in", worker.Id.ToString(), worker.Id.ToString(), isGood: true, cancel);
        return worker;
    }

    private static Refusal Unfit =>
        new(
            "sign-in-unfit",
            "Name and password do not fit together. Check both and try again; after five wrong tries a name rests for five minutes.",
            "Password"
        );

    private bool Fits(Worker? worker, string password) =>
        hasher.VerifyHashedPassword(worker ?? new Worker(), worker?.PasswordHash ?? Nobody.Value, password)
            is not PasswordVerificationResult.Failed
        && worker?.PasswordHash is not null;

    private static IEnumerable<Refusal> Missing(string? name, string? password)
    {
        if (string.IsNullOrWhiteSpace(name))
            yield return new Refusal("name-missing", "Enter your name.", "Name");
        else if (name.Length > 200)
            yield return new Refusal("name-long", "This name is too long: it has at most 200 characters.", "Name");
        if (string.IsNullOrEmpty(password))
            yield return new Refusal("password-missing", "Enter your password.", "Password");
        else if (password.Length > PasswordRule.Most)
            yield return new Refusal("password-long", $"A password has at most {PasswordRule.Most} characters.", "Password");
    }

    [LoggerMessage(Level = LogLevel.Information, Message = "Sign-in of {WorkerId}")]
    private static partial void LogSignedIn(ILogger logger, Guid workerId);

    [LoggerMessage(Level = LogLevel.Warning, Message = "Wrong password for {WorkerId}")]
    private static partial void LogWrong(ILogger logger, Guid workerId);

    [LoggerMessage(Level = LogLevel.Warning, Message = "Sign-in of {WorkerId} while it rests after wrong tries")]
    private static partial void LogLocked(ILogger logger, Guid workerId);

    [LoggerMessage(Level = LogLevel.Warning, Message = "Sign-in with an unknown name")]
    private static partial void LogUnknown(ILogger logger);
}

using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Background.Sending;

namespace ShopFloor.Web.Security.SecondSteps;

/// <summary>The second step of a sign-in: a code of the authenticator app, or a recovery code. Wrong ones count like wrong passwords.</summary>
public sealed partial class SecondStep(
    UserManager<Worker> users,
    ShopContext context,
    HalfSignIn half,
    SignInTries tries,
    WorkerSignIn signIn,
    SecretBox box,
    WriteGate gate,
    SecurityLog log,
    TimeProvider time,
    ILogger<SecondStep> logger
)
{
    private const string What = "sign-in, second step";
    private const int Most = 50;

    /// <summary>Signs in and starts a new session, or refuses.</summary>
    public async Task<Result<Worker>> RunAsync(string? code, CancellationToken cancel)
    {
        if (await half.ReadAsync() is not { } first)
            return Late;
        if (string.IsNullOrWhiteSpace(code) || code.Length > Most)
            return new Refusal("code-missing", "Enter the code.", "Code");
        var worker = await context.Users.FirstOrDefaultAsync(u => u.Id == first.Worker, cancel);
        using var turn = await gate.EnterAsync(cancel);
        if (worker is null || !await tries.IsStillThereAsync(worker, cancel) || worker.SecurityStamp != first.Stamp)
            return Late;
        var isResting = await users.IsLockedOutAsync(worker);
        if (isResting || !await FitsAsync(worker, code, cancel))
        {
            LogRefused(logger, worker.Id, isResting);
            if (!isResting)
                await tries.CountWrongAsync(worker);
            await log.NoteInTurnAsync(isResting ? What + " while resting" : What, "", worker.Id.ToString(), isGood: false, cancel);
            return Unfit;
        }
        await tries.ForgetAsync(worker);
        await half.EndAsync();
        await signIn.SignInAsync(worker, first.Stay);
        LogSignedIn(logger, worker.Id);
        await log.NoteInTurnAsync(What, worker.Id.ToString(), worker.Id.ToString(), isGood: true, cancel);
        return worker;
    }

    /// <summary>Uses the code up where it fits: it is good once.</summary>
    private async Task<bool> FitsAsync(Worker worker, string code, CancellationToken cancel)
    {
        var rows = await SecondStepRows.Of(context, worker.Id).ToListAsync(cancel);
        if (SecondStepRows.CodeIn(rows, code) is { } recovery)
            context.UserTokens.Remove(recovery);
        else if (StepOf(rows, code) is { } step)
            SecondStepRows.LastIn(rows)!.Value = step.ToString(CultureInfo.InvariantCulture);
        else
            return false;
        // Where the database cannot be written it stays good for its minute: who comes to make room must get in.
        await tries.WriteAsync(worker, users.UpdateAsync);
        return true;
    }

    private long? StepOf(List<IdentityUserToken<Guid>> rows, string code) =>
        SecondStepRows.KeyIn(rows) is { } closed
        && box.Open(closed) is { Length: > 0 } key
        && long.TryParse(SecondStepRows.LastIn(rows)?.Value, CultureInfo.InvariantCulture, out var last)
            ? AuthenticatorCode.Match(Convert.FromBase64String(key), code, time.GetUtcNow(), last)
            : null;

    private static Refusal Late => new("code-late", "That took too long. Begin again with name and password.");

    private static Refusal Unfit =>
        new(
            "code-unfit",
            "This code does not fit. Wait for the next one, or use a recovery code; after five wrong tries a name rests for five minutes.",
            "Code"
        );

    [LoggerMessage(Level = LogLevel.Information, Message = "Second step of {WorkerId}")]
    private static partial void LogSignedIn(ILogger logger, Guid workerId);

    [LoggerMessage(Level = LogLevel.Warning, Message = "Second step of {WorkerId} refused, resting: {IsResting}")]
    private static partial void LogRefused(ILogger logger, Guid workerId, bool isResting);
}

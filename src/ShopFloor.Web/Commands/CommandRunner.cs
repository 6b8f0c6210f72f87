using System.Security.Cryptography;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Storage;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Commands;

/// <summary>
/// How every use case changes anything: right, command id, write gate, transaction, the use case's own rule, one save, word to the screens.
/// </summary>
public sealed partial class CommandRunner(
    IDbContextFactory<ShopContext> contexts,
    WriteGate gate,
    Notifier notifier,
    TimeProvider time,
    ILogger<CommandRunner> logger
)
{
    /// <summary>The instant now, UTC, by the clock of the commands.</summary>
    public DateTimeOffset Now => time.GetUtcNow();

    /// <summary>Runs a use case.</summary>
    /// <typeparam name="TInput">What is sent; its JSON is the command's fingerprint.</typeparam>
    /// <typeparam name="TResult">The answer, kept with the command.</typeparam>
    /// <param name="name">The use case.</param>
    /// <param name="allowed">Who may.</param>
    /// <param name="asked">Who asks, with the command's id.</param>
    /// <param name="input">What is sent.</param>
    /// <param name="decide">The use case's rule; it neither saves nor commits.</param>
    /// <param name="cancel">Ends the wait for the gate.</param>
    public async Task<Result<TResult>> RunAsync<TInput, TResult>(
        string name,
        Allowed allowed,
        Asked asked,
        TInput input,
        Func<CommandWork, Task<Result<TResult>>> decide,
        CancellationToken cancel = default
    )
    {
        try
        {
            return await RunInTurnAsync(name, allowed, asked, input, decide, cancel);
        }
        // A database that cannot be written is mostly seen when the turn begins, a full disk at the commit, for the pages are written then.
        catch (Exception barred) when (CannotWrite.Of(barred) is not null)
        {
            LogCannotWrite(logger, barred, name, asked.Command);
            return CannotWrite.Of(barred)!;
        }
    }

    private async Task<Result<TResult>> RunInTurnAsync<TInput, TResult>(
        string name,
        Allowed allowed,
        Asked asked,
        TInput input,
        Func<CommandWork, Task<Result<TResult>>> decide,
        CancellationToken cancel
    )
    {
        var hash = Convert.ToHexStringLower(SHA256.HashData(JsonSerializer.SerializeToUtf8Bytes(input, JsonForms.Default)));
        Result<TResult> result;
        IReadOnlyList<Change> changes = [];
        using (await gate.EnterAsync(cancel))
        {
            await using var context = await contexts.CreateDbContextAsync(cancel);
            await using var transaction = await context.Database.BeginTransactionAsync(cancel);
            if (await Rights.RefuseAsync(context, allowed, asked, cancel) is { } no)
            {
                LogRefusedRight(logger, name, asked.Worker);
                context.SecurityEvents.Add(
                    new SecurityEvent(Guid.CreateVersion7(), time.GetUtcNow(), "right refused", asked.Name, name, isGood: false)
                );
                return await SaveAsync(context, transaction, cancel) ?? no;
            }
            if (await context.Commands.FindAsync([asked.Command], cancel) is { } before)
                return Again<TResult>(before, name, hash, asked.Name);
            var work = new CommandWork(context, time.GetUtcNow(), asked.Command, asked.Name) { Seen = asked.Seen };
            result = await decide(work);
            if (result.IsOk && work.Conflict is { } overtaken)
                result = overtaken;
            if (!result.IsOk)
            {
                LogRefused(logger, name, asked.Command, string.Join(' ', result.Refusals.Select(r => r.Code)));
                return result;
            }
            await OrderNews.WriteAsync(work, cancel);
            var answer = JsonSerializer.Serialize(result.Value, JsonForms.Default);
            context.Commands.Add(new CommandRecord(asked.Command, name, hash, answer, work.Now, work.By));
            OrderChanged.Note(context, work.Now);
            if (await SaveAsync(context, transaction, cancel) is { } notSaved)
                return notSaved;
            changes = work.Changes;
        }
        LogDone(logger, name, asked.Command);
        notifier.Tell(changes);
        return result;
    }

    private static async Task<Refusal?> SaveAsync(ShopContext context, IDbContextTransaction transaction, CancellationToken cancel)
    {
        try
        {
            await context.SaveChangesAsync(cancel);
            await transaction.CommitAsync(CancellationToken.None);
            return null;
        }
        catch (DbUpdateConcurrencyException)
        {
            return new Refusal(
                "changed-meanwhile",
                "Somebody else changed this meanwhile. Your entry is kept: look at what is new, then save again."
            );
        }
    }

    private static Result<TResult> Again<TResult>(CommandRecord before, string name, string hash, string by) =>
        before.Name == name && before.PayloadHash == hash && before.By == by
            ? JsonSerializer.Deserialize<TResult>(before.ResultJson, JsonForms.Default)!
            : new Refusal("command-reused", "This was sent before with other content or by somebody else. Please open the page again.");

    [LoggerMessage(Level = LogLevel.Information, Message = "Command {Name} {Command} done")]
    private static partial void LogDone(ILogger logger, string name, Guid command);

    [LoggerMessage(Level = LogLevel.Information, Message = "Command {Name} {Command} refused: {Codes}")]
    private static partial void LogRefused(ILogger logger, string name, Guid command, string codes);

    [LoggerMessage(Level = LogLevel.Error, Message = "Command {Name} {Command} could not be written")]
    private static partial void LogCannotWrite(ILogger logger, Exception barred, string name, Guid command);

    [LoggerMessage(Level = LogLevel.Warning, Message = "Command {Name} refused to worker {Worker}: no right")]
    private static partial void LogRefusedRight(ILogger logger, string name, Guid? worker);
}

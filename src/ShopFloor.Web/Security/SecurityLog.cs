using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Security;

/// <summary>
/// Writes into the security log what happens outside commands: sign-ins and exports. Ids only, no names. Where it cannot be written, the
/// program's own log has it: who comes to make room on a full disk must get in, and the data must get out.
/// </summary>
public sealed partial class SecurityLog(
    IDbContextFactory<ShopContext> contexts,
    WriteGate gate,
    TimeProvider time,
    ILogger<SecurityLog> logger
)
{
    /// <summary>Notes it.</summary>
    /// <param name="what">E.g. <c>sign-in</c>.</param>
    /// <param name="by">Worker id; empty for a stranger.</param>
    /// <param name="subject">To what.</param>
    /// <param name="isGood">False: it was refused.</param>
    /// <param name="cancel">Ends the wait for the gate.</param>
    public async Task NoteAsync(string what, string by, string subject, bool isGood, CancellationToken cancel)
    {
        using var turn = await gate.EnterAsync(cancel);
        await NoteInTurnAsync(what, by, subject, isGood, cancel);
    }

    /// <summary>Notes it for a caller who has the gate's turn already.</summary>
    public async Task NoteInTurnAsync(string what, string by, string subject, bool isGood, CancellationToken cancel)
    {
        try
        {
            await using var context = await contexts.CreateDbContextAsync(cancel);
            context.SecurityEvents.Add(new SecurityEvent(Guid.CreateVersion7(), time.GetUtcNow(), what, by, subject, isGood));
            await context.SaveChangesAsync(cancel);
        }
        catch (Exception barred) when (CannotWrite.Of(barred) is not null)
        {
            LogNotWritten(logger, barred, what, by, subject, isGood);
        }
    }

    [LoggerMessage(Level = LogLevel.Error, Message = "Not written into the security log: {What} by {By}, {Subject}, good: {IsGood}")]
    private static partial void LogNotWritten(ILogger logger, Exception barred, string what, string by, string subject, bool isGood);
}

using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;

namespace ShopFloor.Web.Security;

/// <summary>Writes into the security log what happens outside commands: sign-ins and exports. Ids only, no names.</summary>
public sealed class SecurityLog(IDbContextFactory<ShopContext> contexts, WriteGate gate, TimeProvider time)
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
        await using var context = await contexts.CreateDbContextAsync(cancel);
        context.SecurityEvents.Add(new SecurityEvent(Guid.CreateVersion7(), time.GetUtcNow(), what, by, subject, isGood));
        await context.SaveChangesAsync(cancel);
    }
}

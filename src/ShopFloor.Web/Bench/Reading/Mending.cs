using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain.Pieces;

namespace ShopFloor.Web.Bench.Reading;

/// <summary>What is done about the fault for which a piece was sent back.</summary>
/// <param name="Fault">Its name.</param>
/// <param name="Remedy">What is usually done, as the list of faults has it.</param>
/// <param name="Note">What was said of it; may be empty.</param>
public sealed record Mend(string Fault, string Remedy, string Note);

/// <summary>
/// Says on the card of the step to which a piece was sent back what the fault asks for, such as sanding: whoever takes over was not there
/// when it was found.
/// </summary>
internal static class Mending
{
    // Common practice, no source; what the material list says of its dust goes before.
    private const string SandingCaution =
        "Sanding makes dust: mask and glasses, sand wet or draw the dust off. Never sand what makes toxic dust.";

    /// <summary>The sheets, those at the step to which their pieces were sent back with what is to be done.</summary>
    internal static async Task<IReadOnlyList<PieceSheet>> AddToAsync(
        ShopContext context,
        OpenWork work,
        IReadOnlyList<PieceSheet> sheets,
        CancellationToken cancel
    )
    {
        var with = new List<PieceSheet>();
        foreach (var sheet in sheets)
        {
            var back = work.Pieces.Where(p => p.Reworks > 0 && sheet.Codes.Contains(p.Code)).Select(p => p.Id).ToList();
            if (sheet.Step is not { } step || back.Count == 0)
            {
                with.Add(sheet);
                continue;
            }
            var entries = await context
                .Journal.AsNoTracking()
                .Where(j => back.Contains(j.Piece))
                .OrderBy(j => j.Sequence)
                .ToListAsync(cancel);
            var mends = entries.GroupBy(j => j.Piece).Select(g => Of([.. g], step.Number)).OfType<Mend>().Distinct().ToList();
            var sands = mends.Exists(m => m.Remedy.StartsWith("Sand ", StringComparison.Ordinal));
            with.Add(
                sheet with
                {
                    Step = step with { Mends = mends, Cautions = sands ? [SandingCaution, .. step.Cautions] : step.Cautions },
                }
            );
        }
        return with;
    }

    // The fault is noted by the tap that sends the piece back.
    private static Mend? Of(IReadOnlyList<JournalEntry> journal, int step)
    {
        var read = journal.Select(j => (Entry: j, Event: j.Read())).ToList();
        var undone = read.Select(r => r.Event).OfType<MovesUndone>().SelectMany(u => u.Entries).ToHashSet();
        read.RemoveAll(r => undone.Contains(r.Entry.Id));
        var at = read.FindLastIndex(r => r.Event is ReworkBegun);
        if (at < 0 || read[at].Event is not ReworkBegun back || back.FromStep != step)
            return null;
        var (key, note) = read.Take(at)
            .Where(r => r.Entry.Command == read[at].Entry.Command)
            .Select(r =>
                r.Event switch
                {
                    FaultFound found => ((string?)found.Fault, found.Note),
                    PieceInspected inspected => (inspected.Findings.Seen.FirstOrDefault(), inspected.Findings.Note),
                    _ => (null, ""),
                }
            )
            .LastOrDefault(f => f.Item1 is not null);
        return key is not null && FaultList.Find(key) is { } fault ? new Mend(fault.Name, fault.Remedy, note) : null;
    }
}

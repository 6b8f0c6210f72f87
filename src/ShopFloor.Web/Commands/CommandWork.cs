using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Commands;

/// <summary>What a use case works with inside its transaction.</summary>
public sealed class CommandWork(ShopContext context, DateTimeOffset now, Guid command, string by)
{
    private readonly OrderedDictionary<Change, bool> changes = [];
    private readonly Dictionary<string, SeriesCounter> counters = new(StringComparer.Ordinal);

    /// <summary>The context of this command alone; the runner saves it once.</summary>
    public ShopContext Context => context;

    /// <summary>The instant of this command, UTC.</summary>
    public DateTimeOffset Now => now;

    /// <summary>The command's id.</summary>
    public Guid Command => command;

    /// <summary>Worker id, or <c>system</c>.</summary>
    public string By => by;

    /// <summary>The versions of settings that the page showed; null: it does not say.</summary>
    public IReadOnlyDictionary<string, Guid>? Seen { get; init; }

    /// <summary>Set when something that the command replaces was changed after the page showed it: then nothing is saved.</summary>
    public Refusal? Conflict { get; set; }

    /// <summary>What screens will be told after the save.</summary>
    public IReadOnlyList<Change> Changes => changes.Keys;

    /// <summary>Lets an event happen to a piece and writes it into its journal.</summary>
    public void Happen(Piece piece, PieceEvent happened)
    {
        piece.Apply(happened);
        context.Journal.Add(new JournalEntry(new EntryId(Guid.CreateVersion7()), piece.Id, happened, by, command));
        Touch(Topic.Piece, piece.Id.Value);
    }

    /// <summary>Lets the answer of a piece's verb happen, or hands its refusal on.</summary>
    public Result<Done> Happen(Piece piece, Result<PieceEvent> answer)
    {
        if (!answer.IsOk)
            return Result<Done>.Refused(answer.Refusals);
        Happen(piece, answer.Value);
        return default(Done);
    }

    /// <summary>Writes who changed a price, a recipe, a right or a station.</summary>
    public void Audit(string what, string subject, string before, string after) =>
        context.Audit.Add(new AuditEntry(Guid.CreateVersion7(), now, by, what, subject, before, after));

    /// <summary>Writes into the security log; ids only, no names.</summary>
    public void NoteSafety(string what, string subject, bool isGood = true) =>
        context.SecurityEvents.Add(new SecurityEvent(Guid.CreateVersion7(), now, what, by, subject, isGood));

    /// <summary>Tells screens after the save.</summary>
    public void Touch(Topic topic, Guid id) => changes.TryAdd(new Change(topic, id), true);

    /// <summary>The next number of a series, without gaps: it is only given when the command's transaction commits.</summary>
    public async Task<long> NextNumberAsync(string series, CancellationToken cancel)
    {
        // Asking the context's local view would go through everything it tracks, for each number anew.
        if (!counters.TryGetValue(series, out var counter))
        {
            counter = await context.Series.FindAsync([series], cancel);
            if (counter is null)
                context.Series.Add(counter = new SeriesCounter(series, 0));
            counters[series] = counter;
        }
        return counter.Next();
    }

    /// <summary>A refusal when the thing was changed after the page showed it.</summary>
    /// <param name="seen">The version that the page showed.</param>
    /// <param name="found">The version now.</param>
    /// <param name="name">What it is called.</param>
    public static Refusal? IfChanged(int seen, int found, string name) => seen == found ? null : ChangedMeanwhile(name);

    /// <summary>Code of the refusal of <see cref="ChangedMeanwhile"/>.</summary>
    internal const string ChangedCode = "changed-meanwhile";

    /// <summary>True when an entry was refused because somebody else was first.</summary>
    public static bool IsOvertaken(IReadOnlyList<Refusal> refusals) => refusals.Any(r => r.Code == ChangedCode);

    /// <summary>Says that what was typed is kept, and is not saved over what somebody else did.</summary>
    /// <param name="name">What was changed.</param>
    public static Refusal ChangedMeanwhile(string name) =>
        new(ChangedCode, $"Somebody else changed {name} meanwhile. Your entry is kept: look at what is new, then save again.");
}

using System.Text.Json;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;

namespace ShopFloor.Data.Records;

/// <summary>One line of a piece's journal; written once, in the save that changes the state, and never edited.</summary>
public sealed class JournalEntry
{
    private JournalEntry() { }

    /// <summary>A new entry.</summary>
    public JournalEntry(EntryId id, PieceId piece, PieceEvent happened, string by, Guid command)
    {
        (Id, Piece, At, By, Command) = (id, piece, happened.At, by, command);
        Payload = JsonSerializer.Serialize(happened, JsonForms.Default);
        PayloadVersion = PieceEvent.PayloadVersion;
    }

    /// <summary>Place in the journal of the whole shop, given by the database.</summary>
    public long Sequence { get; private set; }

    /// <summary>Names it.</summary>
    public EntryId Id { get; private set; }

    /// <summary>Whose journal.</summary>
    public PieceId Piece { get; private set; }

    /// <summary>When, UTC.</summary>
    public DateTimeOffset At { get; private set; }

    /// <summary>Worker id, or <c>system</c>.</summary>
    public string By { get; private set; } = "";

    /// <summary>The command that wrote it.</summary>
    public Guid Command { get; private set; }

    /// <summary>Version of the payload's form.</summary>
    public int PayloadVersion { get; private set; }

    /// <summary>The event as JSON.</summary>
    public string Payload { get; private set; } = "";

    /// <summary>Takes a person's picture or words out of the entry; what happened and when stays. Only an erasure does this.</summary>
    public void Erase(PieceEvent without) => Payload = JsonSerializer.Serialize(without, JsonForms.Default);

    /// <summary>The event.</summary>
    /// <exception cref="JsonException">The payload is not one: the database was changed from outside.</exception>
    public PieceEvent Read() =>
        JsonSerializer.Deserialize<PieceEvent>(Payload, JsonForms.Default) ?? throw new JsonException($"Entry {Sequence} is empty.");
}

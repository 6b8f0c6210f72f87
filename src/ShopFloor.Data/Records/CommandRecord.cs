namespace ShopFloor.Data.Records;

/// <summary>A command that was carried out, with its answer: sent twice, it gives the same answer and does nothing more.</summary>
public sealed class CommandRecord
{
    private CommandRecord() { }

    /// <summary>A record, written in the command's own transaction.</summary>
    public CommandRecord(Guid id, string name, string payloadHash, string resultJson, DateTimeOffset at, string by)
    {
        (Id, Name, PayloadHash, ResultJson, At, By) = (id, name, payloadHash, resultJson, at, by);
    }

    /// <summary>Made by whoever sends it, one for each form and each scan.</summary>
    public Guid Id { get; private set; }

    /// <summary>The use case.</summary>
    public string Name { get; private set; } = "";

    /// <summary>SHA-256 of what was sent: the same id with other content is a fault of the sender.</summary>
    public string PayloadHash { get; private set; } = "";

    /// <summary>The answer, JSON.</summary>
    public string ResultJson { get; private set; } = "";

    /// <summary>When, UTC.</summary>
    public DateTimeOffset At { get; private set; }

    /// <summary>Worker id.</summary>
    public string By { get; private set; } = "";
}

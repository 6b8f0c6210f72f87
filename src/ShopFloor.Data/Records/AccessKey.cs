namespace ShopFloor.Data.Records;

/// <summary>A secret with which a program or a calendar reaches the workshop without a sign-in. Only its hash is kept.</summary>
public sealed class AccessKey
{
    private AccessKey() { }

    /// <summary>A new key.</summary>
    public AccessKey(Guid id, string name, string hash, IReadOnlyList<string> scopes, Guid worker, DateTimeOffset at)
    {
        (Id, Name, Hash, Scopes, Worker, MadeAt) = (id, name, hash, scopes, worker, at);
    }

    /// <summary>Names it.</summary>
    public Guid Id { get; private set; }

    /// <summary>What it is for, in the owner's words.</summary>
    public string Name { get; private set; } = "";

    /// <summary>SHA-256 of the secret, hex.</summary>
    public string Hash { get; private set; } = "";

    /// <summary>What it may do.</summary>
    public IReadOnlyList<string> Scopes { get; private set; } = [];

    /// <summary>Who made it.</summary>
    public Guid Worker { get; private set; }

    /// <summary>When made, UTC.</summary>
    public DateTimeOffset MadeAt { get; private set; }

    /// <summary>When it was last used, UTC, to the hour.</summary>
    public DateTimeOffset? UsedAt { get; private set; }

    /// <summary>When it was taken away, UTC.</summary>
    public DateTimeOffset? RevokedAt { get; private set; }

    /// <summary>Takes it away.</summary>
    public void Revoke(DateTimeOffset at) => RevokedAt ??= at;

    /// <summary>Notes a use; true when that is news worth saving.</summary>
    public bool Use(DateTimeOffset at)
    {
        if (UsedAt is { } last && at - last < TimeSpan.FromHours(1))
            return false;
        UsedAt = at;
        return true;
    }
}

using ShopFloor.Domain;

namespace ShopFloor.Data.Records;

/// <summary>An address outside that is told when something happens to an order.</summary>
public sealed class Webhook
{
    /// <summary>After a change of secret both are signed with for so long.</summary>
    public static readonly TimeSpan BothSecretsFor = TimeSpan.FromDays(2);

    private Webhook() { }

    /// <summary>A new one.</summary>
    /// <param name="id">Names it.</param>
    /// <param name="secret">The secret, encrypted.</param>
    /// <param name="at">When made.</param>
    public Webhook(Guid id, string secret, DateTimeOffset at) => (Id, Secret, MadeAt) = (id, secret, at);

    /// <summary>Names it.</summary>
    public Guid Id { get; private set; }

    /// <summary>Where to, https.</summary>
    public string Url { get; private set; } = "";

    /// <summary>Events it wants; all when empty.</summary>
    public IReadOnlyList<string> Events { get; private set; } = [];

    /// <summary>The secret, encrypted with the program's keys, which are not in the database.</summary>
    public string Secret { get; private set; } = "";

    /// <summary>The secret before, encrypted; empty when there is none.</summary>
    public string OldSecret { get; private set; } = "";

    /// <summary>Until when the old one signs too, UTC.</summary>
    public DateTimeOffset? OldUntil { get; private set; }

    /// <summary>False: nothing is sent.</summary>
    public bool IsActive { get; private set; } = true;

    /// <summary>When made, UTC.</summary>
    public DateTimeOffset MadeAt { get; private set; }

    /// <summary>Counts changes.</summary>
    public int Version { get; private set; }

    /// <summary>Whether it wants to hear of an event.</summary>
    public bool Wants(string what) => IsActive && (Events.Count == 0 || Events.Contains(what, StringComparer.Ordinal));

    /// <summary>Changes address and events.</summary>
    public Result<Done> Change(string url, IReadOnlyList<string> events, bool isActive)
    {
        if (!Uri.TryCreate(url.Trim(), UriKind.Absolute, out var uri) || uri.Scheme is not ("https" or "http") || url.Length > 500)
            return new Refusal("webhook-url", "Enter an address like https://example.org/orders.", "Url");
        if (uri.UserInfo.Length > 0)
            return new Refusal("webhook-url", "Leave name and password out of the address: the signature proves who sends.", "Url");
        (Url, Events, IsActive) = (uri.ToString(), events, isActive);
        Version++;
        return default(Done);
    }

    /// <summary>A new secret; the old one signs too for a while, so that the receiver can change over.</summary>
    public void Rotate(string secret, DateTimeOffset at)
    {
        (OldSecret, OldUntil, Secret) = (Secret, at + BothSecretsFor, secret);
        Version++;
    }
}

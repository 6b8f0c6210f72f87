using System.Buffers.Binary;
using ShopFloor.Data;

namespace ShopFloor.Web.Commands;

/// <summary>Who asks, and the id that makes asking twice harmless. The default value is nobody and may nothing.</summary>
public readonly record struct Asked
{
    private Asked(Guid command, Guid? worker, bool system, bool link, Guid? key = null) =>
        (Command, Worker, IsSystem, IsLink, Key) = (command, worker, system, link, key);

    /// <summary>Made by the sender, one for each form or scan, version-7 Guid.</summary>
    public Guid Command { get; }

    /// <summary>The signed-in worker.</summary>
    public Guid? Worker { get; }

    /// <summary>True for the program itself.</summary>
    public bool IsSystem { get; }

    /// <summary>True for somebody with a secret link and no sign-in.</summary>
    public bool IsLink { get; }

    /// <summary>The key of another program.</summary>
    public Guid? Key { get; }

    /// <summary>The versions of settings that the page showed, see <see cref="HavingSeen"/>; null: whatever holds may be replaced.</summary>
    public IReadOnlyDictionary<string, Guid>? Seen { get; private init; }

    /// <summary>The same, asked by a page that showed these versions of settings: one that was changed meanwhile is not overwritten.</summary>
    /// <param name="versions">By key; a key that is not there had no version yet.</param>
    public Asked HavingSeen(IReadOnlyDictionary<string, Guid> versions) => this with { Seen = versions };

    /// <summary>The name in journals.</summary>
    public string Name =>
        Worker?.ToString()
        ?? (
            IsSystem ? "system"
            : Key is { } key ? $"key {key}"
            : "link"
        );

    /// <summary>
    /// A part of this command that is carried out by itself. Its id follows from the whole's: when the whole is sent again, the parts that
    /// were done are found.
    /// </summary>
    /// <param name="number">From 1.</param>
    public Asked Part(int number)
    {
        var bytes = Command.ToByteArray();
        var last = bytes.AsSpan(12);
        BinaryPrimitives.WriteInt32LittleEndian(last, BinaryPrimitives.ReadInt32LittleEndian(last) ^ number);
        return new Asked(new Guid(bytes), Worker, IsSystem, IsLink, Key) { Seen = Seen };
    }

    /// <summary>A command of the program's own: planner, demo, retention.</summary>
    public static Asked BySystem() => new(Guid.CreateVersion7(), null, true, false);

    /// <summary>A new command of a worker.</summary>
    public static Asked By(Guid worker) => new(Guid.CreateVersion7(), worker, false, false);

    /// <summary>A worker's command whose id the sender made.</summary>
    public static Asked By(Guid worker, Guid command) => new(command, worker, false, false);

    /// <summary>A command of another program, by its key. It may what the Counter may.</summary>
    public static Asked ByKey(Guid key, Guid command) => new(command, null, false, false, key);

    /// <summary>A command of a customer's secret link.</summary>
    public static Asked ByLink(Guid command) => new(command, null, false, true);
}

/// <summary>Who may run a command.</summary>
/// <param name="Roles">One of these roles is needed.</param>
/// <param name="Anyone">True: no sign-in needed, e.g. a customer's status link; the use case checks its own token.</param>
public sealed record Allowed(IReadOnlyList<string> Roles, bool Anyone = false)
{
    /// <summary>The owner.</summary>
    public static Allowed Owner { get; } = new([WorkerRole.Owner]);

    /// <summary>Who works on pieces, and the owner.</summary>
    public static Allowed Bench { get; } = new([WorkerRole.Owner, WorkerRole.Bench]);

    /// <summary>The Counter, the Bench and the owner.</summary>
    public static Allowed Counter { get; } = new([WorkerRole.Owner, WorkerRole.Bench, WorkerRole.Counter]);

    /// <summary>A customer with a secret link; the use case checks it.</summary>
    public static Allowed WithLink { get; } = new([], Anyone: true);

    /// <summary>Only the program itself.</summary>
    public static Allowed System { get; } = new([]);
}

namespace ShopFloor.Web.Bench.Tracing;

/// <summary>A piece that was found by what made it.</summary>
/// <param name="Code">Its code.</param>
/// <param name="Order">Number of its order.</param>
/// <param name="Customer">Who for; empty for who may not see it.</param>
/// <param name="What">What it is.</param>
/// <param name="State">In words.</param>
/// <param name="Steps">Which steps touched it there.</param>
public sealed record TracedPiece(string Code, int Order, string Customer, string What, string State, string Steps);

/// <summary>One line of a piece's history.</summary>
/// <param name="At">When, UTC.</param>
/// <param name="Who">Name of the worker.</param>
/// <param name="What">In words.</param>
/// <param name="IsUndone">True when it was taken back later: it stays in the journal and no longer counts.</param>
/// <param name="Photos">Addresses of its photos.</param>
public sealed record TracedMove(DateTimeOffset At, string Who, string What, bool IsUndone, IReadOnlyList<string> Photos);

/// <summary>A way onward from here: to the can lot, the load, the person, the recipe.</summary>
public sealed record TraceLink(string Kind, string Key, string Text);

/// <summary>What a trace shows.</summary>
public sealed record TraceSheet(
    string Title,
    IReadOnlyList<TracedPiece> Pieces,
    IReadOnlyList<TracedMove> Moves,
    IReadOnlyList<TraceLink> Links
);

namespace ShopFloor.Web.Shared.Charts;

/// <summary>A bar of a chart.</summary>
/// <param name="Name">Unique in its chart.</param>
/// <param name="Value">Its length.</param>
/// <param name="Text">The figure as people read it.</param>
public sealed record Bar(string Name, decimal Value, string Text);

/// <summary>Two columns side by side: now, and before.</summary>
/// <param name="Name">Unique in its chart.</param>
/// <param name="Now">The filled one.</param>
/// <param name="Before">The outlined one.</param>
public sealed record Pair(string Name, int Now, int Before);

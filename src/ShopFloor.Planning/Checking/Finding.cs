namespace ShopFloor.Planning.Checking;

/// <summary>One broken rule.</summary>
/// <param name="Rule">The rule's name, e.g. <c>person-busy</c>; see docs/formats.md.</param>
/// <param name="Tasks">Positions in the plan's list of tasks, counted from 0.</param>
/// <param name="Pieces">The pieces concerned.</param>
/// <param name="Batches">The batches concerned.</param>
/// <param name="Amount">By how much, in the rule's own unit; 0 where there is nothing to measure.</param>
/// <param name="Text">One sentence for a person.</param>
public sealed record Finding(
    string Rule,
    IReadOnlyList<int> Tasks,
    IReadOnlyList<string> Pieces,
    IReadOnlyList<string> Batches,
    long Amount,
    string Text
);

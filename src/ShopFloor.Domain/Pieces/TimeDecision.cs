namespace ShopFloor.Domain.Pieces;

/// <summary>What is done with a piece whose step was too short, too long, or not at its temperature.</summary>
public enum TimeChoice
{
    /// <summary>It goes on as it is.</summary>
    GoOn,

    /// <summary>Back to an earlier step.</summary>
    Rework,

    /// <summary>Put aside until a test shows whether it holds.</summary>
    Test,

    /// <summary>Put aside until somebody decides.</summary>
    Hold,

    /// <summary>It is lost.</summary>
    Spoil,

    /// <summary>It is left out of the batch that begins, and nothing else happens to it.</summary>
    LeaveOut,
}

/// <summary>A person's decision about pieces outside their window. It goes into the journal with its reason.</summary>
/// <param name="Choice">What is done.</param>
/// <param name="Reason">Why, in a few words.</param>
/// <param name="Step">The step to go back to, for <see cref="TimeChoice.Rework"/>.</param>
public sealed record TimeDecision(TimeChoice Choice, string Reason, int? Step = null);

/// <summary>What was decided about the members of a batch.</summary>
/// <param name="All">About every member that has no decision of its own; null: none was made.</param>
/// <param name="Each">About single members, by the code of the piece; null: none.</param>
public sealed record MemberDecisions(TimeDecision? All, IReadOnlyDictionary<string, TimeDecision>? Each = null)
{
    /// <summary>What was decided about a piece; null: nothing.</summary>
    /// <param name="code">Its code.</param>
    public TimeDecision? For(string code) => Each?.GetValueOrDefault(code) ?? All;
}

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
}

/// <summary>A person's decision about pieces outside their window. It goes into the journal with its reason.</summary>
/// <param name="Choice">What is done.</param>
/// <param name="Reason">Why, in a few words.</param>
/// <param name="Step">The step to go back to, for <see cref="TimeChoice.Rework"/>.</param>
public sealed record TimeDecision(TimeChoice Choice, string Reason, int? Step = null);

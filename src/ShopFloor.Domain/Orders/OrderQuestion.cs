namespace ShopFloor.Domain.Orders;

/// <summary>Something the workshop wants to know of the customer, answered on the order's own page.</summary>
/// <param name="Number">1, 2, 3 … within the order.</param>
/// <param name="Text">What is asked.</param>
/// <param name="AskedAt">When, UTC.</param>
/// <param name="Answer">What the customer said; empty: nothing yet.</param>
/// <param name="AnsweredAt">When, UTC.</param>
public sealed record OrderQuestion(int Number, string Text, DateTimeOffset AskedAt, string Answer = "", DateTimeOffset? AnsweredAt = null)
{
    /// <summary>Longest question or answer.</summary>
    public const int MostLetters = 500;

    /// <summary>Most questions of one order.</summary>
    public const int MostOfOrder = 20;

    /// <summary>The customer has not answered.</summary>
    public bool IsOpen => AnsweredAt is null;
}

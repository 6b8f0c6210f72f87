using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Orders;

/// <summary>Something that is asked for beside the pieces, such as shipping. It goes onto the next invoice once.</summary>
/// <param name="Number">1, 2, 3 … in its order.</param>
/// <param name="Name">What it is.</param>
/// <param name="Amount">As agreed: with tax where the order was agreed with tax.</param>
public sealed record OrderCharge(int Number, string Name, decimal Amount)
{
    /// <summary>What is wrong with it; null when nothing is.</summary>
    public Refusal? Check()
    {
        if (Name.Trim().Length is 0 or > 100)
            return new Refusal("charge-name", "Say what it is for, in at most 100 characters.", nameof(Name));
        return Amount is > 0 and <= 10_000 && Money.Round(Amount) == Amount
            ? null
            : new Refusal("charge-amount", "Enter an amount above 0 and at most 10,000 with at most two decimals.", nameof(Amount));
    }
}

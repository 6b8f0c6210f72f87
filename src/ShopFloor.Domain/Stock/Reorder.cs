namespace ShopFloor.Domain.Stock;

/// <summary>What is there of one thing and what will be taken; all amounts in its own unit.</summary>
/// <param name="OnHand">What may be used now.</param>
/// <param name="NeededInLeadTime">What booked work takes before a delivery ordered today could be here.</param>
/// <param name="NeededInAll">What all booked work takes.</param>
/// <param name="ReorderAt">The amount that shall still be there then, at least 0.</param>
/// <param name="LeadDays">Days from order to delivery, at least 0.</param>
/// <param name="UsedPerDay">What was used on a day lately, on average, at least 0.</param>
public sealed record StockOutlook(
    decimal OnHand,
    decimal NeededInLeadTime,
    decimal NeededInAll,
    decimal ReorderAt,
    int LeadDays,
    decimal UsedPerDay
);

/// <summary>Whether to order.</summary>
/// <param name="OrderNow">True: waiting means running short before it comes.</param>
/// <param name="Missing">True: booked work takes more than is there.</param>
/// <param name="LeftAtDelivery">What will be there when a delivery ordered today comes; below 0: short.</param>
/// <param name="DaysLeft">Days it lasts at the late pace; null: nothing was used lately.</param>
/// <param name="Suggested">How much to order, in its own unit, not rounded to packs; 0 while nothing is to be ordered.</param>
public readonly record struct ReorderAdvice(bool OrderNow, bool Missing, decimal LeftAtDelivery, decimal? DaysLeft, decimal Suggested);

/// <summary>
/// When and how much to order: reorder when what is there, less the demand until the delivery comes, is down to the safety stock (reorder
/// point = demand in lead time + safety stock; inventory text books, from memory). The demand is what booked work takes, or the late
/// pace when that is more.
/// </summary>
public static class Reorder
{
    /// <summary>Judges one thing.</summary>
    public static ReorderAdvice Judge(StockOutlook o)
    {
        var pace = o.UsedPerDay * o.LeadDays;
        var left = o.OnHand - Math.Max(o.NeededInLeadTime, pace);
        var order = left < 0 || (o.ReorderAt > 0 && left <= o.ReorderAt);
        // Enough for all that is booked and one more delivery time at the late pace, and the safety stock is still there then.
        var suggested = order ? Math.Max(0, o.ReorderAt + Math.Max(o.NeededInAll, pace) + pace - o.OnHand) : 0;
        decimal? days = o.UsedPerDay > 0 ? Math.Max(0, o.OnHand) / o.UsedPerDay : null;
        return new ReorderAdvice(order, o.OnHand < o.NeededInAll, left, days, suggested);
    }
}

namespace ShopFloor.Domain.Orders;

/// <summary>Pictures that the customer brings after booking.</summary>
public static class MissingPictures
{
    /// <summary>Lines that have neither picture nor text yet, while both can still come.</summary>
    public static IEnumerable<OrderLine> WithoutPicture(this Order order) =>
        order is { CancelledAt: null, PrintedAt: null } ? order.Lines.Where(l => l is { Picture: null, Texts.Count: 0 }) : [];
}

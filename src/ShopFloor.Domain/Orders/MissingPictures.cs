namespace ShopFloor.Domain.Orders;

/// <summary>Pictures that the customer brings after booking.</summary>
public static class MissingPictures
{
    /// <summary>Lines that have neither picture nor text yet, or a text whose picture is said to come, while both can still come.</summary>
    public static IEnumerable<OrderLine> WithoutPicture(this Order order) =>
        order is { CancelledAt: null, PrintedAt: null } ? order.Lines.Where(WaitsForPicture) : [];

    /// <summary>Whether a line has no picture though it should have one.</summary>
    public static bool WaitsForPicture(this OrderLine line) =>
        line is { Picture: null, Quantity: > 0 } && (line.Texts.Count == 0 || line.Placement.IsToCome);

    /// <summary>Whether the customer has to see what will be on a line: an own piece cannot be had again. What is still to come is asked for first.</summary>
    internal static bool AsksForProof(this OrderLine line) =>
        line.Piece.IsOwn && line.Quantity > 0 && (line.Picture is not null || (line.Texts.Count > 0 && !line.Placement.IsToCome));
}

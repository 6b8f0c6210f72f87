using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Counter.Booking;

namespace ShopFloor.Web.Tests.Support;

/// <summary>Orders for tests, and a shop that can book them.</summary>
internal static class ShopOrders
{
    /// <summary>A shop with the demo workshop in it.</summary>
    public static Task<TestShop> DemoAsync() => TestShop.DemoAsync();

    /// <summary>One line of aluminium plates with everything agreed to; the prices are not yet shown.</summary>
    public static OrderInput Plates(int count = 2, bool own = false) =>
        new()
        {
            Contact = new Contact("Ida Sandberg", "ida@example.org", ""),
            ContactAgreed = true,
            RiskAccepted = own,
            Lines =
            [
                new LineInput
                {
                    Quantity = count,
                    Finish = Finish.WhiteGround,
                    Piece = new PieceDescription
                    {
                        Material = "al",
                        Width = Length.FromMillimetres(100),
                        Height = Length.FromMillimetres(60),
                        Thickness = Length.FromMillimetres(1),
                        IsOwn = own,
                        Hidden = HiddenParts.None,
                    },
                },
            ],
        };

    /// <summary>The order with the prices as they are shown now.</summary>
    public static async Task<OrderInput> ShownAsync(this TestShop shop, OrderInput order)
    {
        var quote = await shop.Get<QuoteOrder>().RunAsync(order);
        return order with { ShownPriceHashes = [.. quote.Lines.Select(l => l.Price?.Hash ?? "")] };
    }
}

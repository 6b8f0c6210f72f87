using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Exchange;

/// <summary>Orders as the file that can be taken in again.</summary>
internal static class OrderLinesOut
{
    public static async Task<string> WriteAsync(ShopContext context, DateTimeOffset now, CancellationToken cancel)
    {
        var settings = await CurrentSettings.LoadAsync(context, now, cancel);
        // Taken in again, what was called off would be booked.
        var orders = await context.Orders.AsNoTracking().Where(o => o.CancelledAt == null).OrderBy(o => o.Number).ToListAsync(cancel);
        var customers = await context
            .Customers.AsNoTracking()
            .Where(c => c.ErasedAt == null)
            .ToDictionaryAsync(c => c.Id, CustomerRows.NameOf, cancel);
        return CsvText.Write(
            [.. OrderRows.Columns.Select(c => c.Name)],
            orders
                .Where(o => customers.ContainsKey(o.Customer))
                .SelectMany(o => o.Lines.OrderBy(l => l.Number).Select(l => Row(o, l, customers[o.Customer], settings)))
        );
    }

    private static object?[] Row(Order order, OrderLine line, string customer, CurrentSettings settings) =>
        [
            OrderRows.NameOf(order.Id, order.ExternalId),
            customer,
            settings.Day(order.PromisedAt),
            line.Piece.Material,
            line.Finish.Words(),
            line.Quantity,
            CsvText.Amount(line.Piece.Width.Millimetres),
            CsvText.Amount(line.Piece.BoxHeight.Millimetres),
            CsvText.Amount(line.Piece.Thickness.Millimetres),
            CsvText.Amount(line.Piece.Wall.Millimetres),
            line.Piece.IsOwn,
            line.Piece.DeclaredValue is { } value ? CsvText.Amount(value) : null,
            line.Piece.Hidden.IsNothing,
            string.Join('|', line.Texts),
            line.Placement.LightLetters,
            line.Piece.Note,
            CsvText.Amount((settings.Profile.PricesIncludeTax ? line.Price.Gross : line.Price.Net) / line.Quantity),
            order.Wanted,
            order.IsRush,
            order.IsGift,
            order.Agreements.Any(a => a.What == "risk"),
            order.Note,
            .. OrderMoney.Of(order, line, settings),
        ];
}

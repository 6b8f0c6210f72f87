using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Background.Demo;

/// <summary>What came back in the invented month: one complaint to be decided, one that was turned down, and shipping and a discount on an order.</summary>
public static class DemoComplaints
{
    public static async Task<Result<Done>> AddToAsync(CommandWork work, CancellationToken cancel)
    {
        var away = await work
            .Context.Pieces.AsNoTracking()
            .Where(p => p.State == PieceState.HandedOver)
            .OrderBy(p => p.Code)
            .ToListAsync(cancel);
        var (first, last) = (away[0], away[^1]);
        work.Context.Complaints.Add(Complaint(first, "The picture has a pale corner at the lower left.", work, days: 1));
        var worn = Complaint(last, "It has got scratches after a week in the car.", work, days: 6);
        _ = worn.Refuse(
            "A coat is not proof against sand and keys, as the care note says. We offered to sand and coat it anew at half the price.",
            work.Now.AddDays(-5)
        );
        work.Context.Complaints.Add(worn);
        var running = await work.Context.Pieces.Where(p => p.State == PieceState.InWork).OrderBy(p => p.Code).FirstAsync(cancel);
        var order = await work.Context.Orders.FirstAsync(o => o.Id == running.Order, cancel);
        var charged = order.Charge("Shipping", 6.90m);
        var withTax = (await CurrentSettings.LoadAsync(work.Context, work.Now, cancel)).Profile.PricesIncludeTax;
        var wish = new DiscountWish(10m, IsPercent: true, "Thank you for your patience");
        return charged.Then(_ => order.Discount(wish, new Dictionary<int, decimal>(), withTax, new Signature(work.By, work.Now)));
    }

    private static Complaint Complaint(Piece piece, string words, CommandWork work, int days) =>
        new(Guid.CreateVersion7(), piece.Order, [piece.Id], words, work.Now.AddDays(-days), work.By);
}

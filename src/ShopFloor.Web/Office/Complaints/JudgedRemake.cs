using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Counter.Booking;

namespace ShopFloor.Web.Office.Complaints;

/// <summary>The remake of complained pieces as the workshop stands now: judged alike before the write gate and within it.</summary>
/// <param name="Input">The order to be booked.</param>
/// <param name="Customer">Whose.</param>
/// <param name="Shop">What it was judged by.</param>
/// <param name="Lines">Its lines, judged.</param>
/// <param name="Faults">Why it cannot be booked.</param>
public sealed record JudgedRemake(
    OrderInput Input,
    Customer Customer,
    ShopFacts Shop,
    IReadOnlyList<JudgedLine> Lines,
    IReadOnlyList<Refusal> Faults
)
{
    /// <summary>The lines, counted from 0, for which blanks are missing.</summary>
    public required IReadOnlyDictionary<int, ShortBlanks> Short { get; init; }

    /// <summary>What a promise is asked for: the same as for any order.</summary>
    public AskedOrder Asked => new JudgedOrder(Input, Lines, Shop) { Short = Short }.Asked;

    /// <summary>Judges it.</summary>
    public static async Task<JudgedRemake> OfAsync(ShopContext context, Complaint complaint, DateTimeOffset now, CancellationToken cancel)
    {
        var shop = await ShopFacts.LoadAsync(context, now, cancel);
        var old = await context.Orders.AsNoTracking().FirstAsync(o => o.Id == complaint.Order, cancel);
        var customer = await context.Customers.FirstAsync(c => c.Id == old.Customer, cancel);
        var input = RemakeOrder.Of(old, await PiecesAsync(context, complaint, cancel));
        var lines = input.Lines.Select(l => JudgeLine.Of(l, shop, rush: false, customer.Group)).ToList();
        List<Refusal> faults = [.. LineFaults.Of(input, shop.Settings.Day(now)), .. lines.SelectMany(j => j.Quote.Faults)];
        return new JudgedRemake(input, customer, shop, lines, faults) { Short = await ShortBlanks.OfAsync(context, input, shop, cancel) };
    }

    /// <summary>The pieces that the complaint is about.</summary>
    public static Task<List<Piece>> PiecesAsync(ShopContext context, Complaint complaint, CancellationToken cancel)
    {
        var ids = complaint.Pieces;
        return context.Pieces.AsNoTracking().Where(p => ids.Contains(p.Id)).OrderBy(p => p.Number).ToListAsync(cancel);
    }
}

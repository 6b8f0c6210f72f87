using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Reading;

namespace ShopFloor.Web.Documents;

/// <summary>Which transfers lie printed already, and on which paper: sheets of a day, of a session and of an order hold the same ones.</summary>
internal sealed class PrintedBefore
{
    private readonly Dictionary<string, string> papers;

    private PrintedBefore(Dictionary<string, string> papers) => this.papers = papers;

    /// <summary>Reads it for all open pieces.</summary>
    public static async Task<PrintedBefore> ReadAsync(ShopContext context, OpenWork work, CancellationToken cancel)
    {
        var needing = work.Pieces.Where(p => !p.IsTest && TransferChoice.NeedsTransfer(p)).ToLookup(p => p.Order);
        var missing = await PrintedParts.MissingAsync(context, null, cancel);
        var ids = needing.Select(g => g.Key).ToList();
        var used = await UsedPrints.OfAsync(context, ids, cancel);
        var at = new Dictionary<string, DateTimeOffset>(StringComparer.Ordinal);
        foreach (var order in await context.Orders.AsNoTracking().Where(o => ids.Contains(o.Id)).ToListAsync(cancel))
        {
            var parts = await PrintedParts.LastAsync(context, order, cancel);
            foreach (var piece in needing[order.Id])
                if (When(piece.Code, order, parts, missing) is { } when && !(used.TryGetValue(piece.Code, out var since) && when < since))
                    at[piece.Code] = when;
        }
        var numbers = await NumbersAsync(context, at.Values, cancel);
        return new PrintedBefore(
            at.Where(a => numbers.ContainsKey(a.Value)).ToDictionary(a => a.Key, a => numbers[a.Value], StringComparer.Ordinal)
        );
    }

    /// <summary>Of the transfers of a paper, how many lie printed on others already, and on which.</summary>
    /// <param name="work">What is in work.</param>
    /// <param name="wish">The paper.</param>
    /// <param name="plan">The plan, for sheets of a day.</param>
    /// <param name="own">The number under which the paper itself was printed; empty: never.</param>
    public (int Printed, int All, IReadOnlyList<string> Papers) Of(OpenWork work, PaperWish wish, ReadPlan? plan, string own)
    {
        var choice = TransferChoice.Of(work, wish, plan);
        if (!choice.IsOk)
            return (0, 0, []);
        var pieces = choice.Value.Pieces.Select(c => c.Piece).Where(p => !p.IsTest && TransferChoice.NeedsTransfer(p)).ToList();
        var on = pieces.Select(p => papers.GetValueOrDefault(p.Code)).OfType<string>().ToList();
        return (on.Count(n => n != own), pieces.Count, [.. on.Where(n => n != own).Distinct().Order(StringComparer.Ordinal)]);
    }

    // A part that was printed says so by itself; else it went with the whole order.
    private static DateTimeOffset? When(string code, Order order, Dictionary<string, DateTimeOffset> parts, IReadOnlySet<string> missing) =>
        missing.Contains(code) ? null
        : parts.TryGetValue(code, out var at) ? at
        : order.PrintedAt;

    // The entry of the paper and what it says of an order are written in one save, at one instant.
    private static async Task<Dictionary<DateTimeOffset, string>> NumbersAsync(
        ShopContext context,
        IReadOnlyCollection<DateTimeOffset> at,
        CancellationToken cancel
    )
    {
        if (at.Count == 0)
            return [];
        var (since, sheets) = (at.Min(), $"{PaperKind.Sheets} ");
        var prints = await context
            .Audit.AsNoTracking()
            .Where(a => a.What == PrintPaper.What && a.At >= since && a.Subject.StartsWith(sheets))
            .Select(a => new { a.At, a.After })
            .ToListAsync(cancel);
        return prints.GroupBy(p => p.At).ToDictionary(g => g.Key, g => g.First().After);
    }
}

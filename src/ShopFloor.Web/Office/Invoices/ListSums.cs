using System.Collections.Concurrent;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>The sums of a list of documents in one currency; credit notes are taken off, reminders are no part of them.</summary>
/// <param name="Net">Without tax.</param>
/// <param name="Tax">The tax.</param>
/// <param name="Gross">With tax and rounding.</param>
/// <param name="Open">Still to pay; what was paid too much is taken off.</param>
public sealed record ListSum(string Currency, decimal Net, decimal Tax, decimal Gross, decimal Open)
{
    /// <summary>What cash payments were rounded by, taken together.</summary>
    public decimal Rounding => Gross - Net - Tax;
}

/// <summary>Adds up documents. What one comes to never changes, so it is read once.</summary>
internal static class ListSums
{
    private const int AtOnce = 500;

    private static readonly ConcurrentDictionary<Guid, (decimal Net, decimal Tax)> Known = new();

    public static async Task<IReadOnlyList<ListSum>> OfAsync(ShopContext context, IReadOnlyList<InvoiceRow> rows, CancellationToken cancel)
    {
        var counted = rows.Where(r => r.Kind != Reminders.Kind).ToList();
        foreach (var ids in counted.Select(r => r.Id).Where(id => !Known.ContainsKey(id)).Chunk(AtOnce))
        foreach (
            var row in await context
                .Documents.AsNoTracking()
                .Where(d => ids.Contains(d.Id))
                .Select(d => new { d.Id, d.Json })
                .ToListAsync(cancel)
        )
        {
            var totals = OrderAccount.Read(row.Json).Totals;
            Known[row.Id] = (totals.WithoutTax, totals.Tax);
        }
        return [.. counted.GroupBy(r => r.Currency).OrderBy(g => g.Key, StringComparer.Ordinal).Select(g => Of(g.Key, [.. g]))];
    }

    private static ListSum Of(string currency, IReadOnlyList<InvoiceRow> rows)
    {
        decimal Sum(Func<InvoiceRow, decimal> of) => rows.Sum(r => (r.Signed < 0m ? -1m : 1m) * of(r));
        return new ListSum(
            currency,
            Sum(r => Known[r.Id].Net),
            Sum(r => Known[r.Id].Tax),
            rows.Sum(r => r.Signed),
            rows.Sum(r => r.Outstanding)
        );
    }
}

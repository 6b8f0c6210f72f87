using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Documents.Letters;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Books;

/// <summary>A payment in the books.</summary>
/// <param name="Day">When, shop-local.</param>
/// <param name="Means"><c>cash</c>, <c>card</c>, <c>transfer</c>; else it was only set off: <c>on account</c> or <c>moved</c>.</param>
/// <param name="Amount">Below zero: paid back.</param>
/// <param name="Document">Number of the document that it is for; empty: on account.</param>
/// <param name="Order">Number of the order; null: of none.</param>
public sealed record BookPayment(
    DateOnly Day,
    string Means,
    decimal Amount,
    string Currency,
    string Document,
    int? Order,
    string Customer,
    string Note
)
{
    /// <summary>Whether money changed hands.</summary>
    public bool IsMoney => EnterPayment.Means.Contains(Means, StringComparer.Ordinal);
}

/// <summary>What came in by one way.</summary>
public sealed record MeansSum(string Means, int Count, decimal Amount);

/// <summary>What came in on a day.</summary>
public sealed record TakingsSheet(DateOnly Day, DateOnly Today, string Currency, IReadOnlyList<BookPayment> Payments)
{
    /// <summary>By way of paying, also those by which nothing came.</summary>
    public IReadOnlyList<MeansSum> Sums => Takings.ByMeans(Payments);

    /// <summary>All of it.</summary>
    public decimal Total => Payments.Sum(p => p.Amount);
}

/// <summary>Sums of payments.</summary>
public static class Takings
{
    /// <summary>By way of paying: cash, card, transfer.</summary>
    public static IReadOnlyList<MeansSum> ByMeans(IReadOnlyList<BookPayment> payments) =>
        [
            .. new[] { "cash", "card", "transfer" }.Select(m => new MeansSum(
                m,
                payments.Count(p => p.Means == m),
                payments.Where(p => p.Means == m).Sum(p => p.Amount)
            )),
        ];

    /// <summary>The payments of some days in the order of entering, also those that were only set off.</summary>
    internal static async Task<IReadOnlyList<BookPayment>> LoadAsync(
        ShopContext context,
        DateOnly from,
        DateOnly until,
        CancellationToken cancel
    )
    {
        var rows = await context.Payments.AsNoTracking().Where(p => p.Day >= from && p.Day <= until).ToListAsync(cancel);
        var ids = rows.Where(r => r.Document != null).Select(r => r.Document!.Value).Distinct().ToList();
        var numbers = await context.Documents.Where(d => ids.Contains(d.Id)).ToDictionaryAsync(d => d.Id, d => d.Number, cancel);
        var of = rows.Where(r => r.Order != null).Select(r => r.Order!.Value).Distinct().ToList();
        var orders = (
            await context
                .Orders.AsNoTracking()
                .Where(o => of.Contains(o.Id))
                .Select(o => new
                {
                    o.Id,
                    o.Number,
                    o.Contact.Name,
                })
                .ToListAsync(cancel)
        ).ToDictionary(o => o.Id, o => (o.Number, o.Name));
        return
        [
            .. rows.OrderBy(r => r.Day)
                .ThenBy(r => r.Id)
                .Select(r =>
                {
                    (int Number, string Name)? order = r.Order is { } id && orders.TryGetValue(id, out var found) ? found : null;
                    var number = r.Document is { } paper ? numbers.GetValueOrDefault(paper, "") : "";
                    return new BookPayment(r.Day, r.Means, r.Amount, r.Currency, number, order?.Number, order?.Name ?? "", r.Note);
                }),
        ];
    }
}

/// <summary>Reads what came in on a day.</summary>
public sealed class TakingsView(IDbContextFactory<ShopContext> contexts, Letterheads heads, TimeProvider time) : IPageView
{
    /// <summary>A day.</summary>
    /// <param name="day">Like <c>2026-05-04</c>; anything else: today.</param>
    /// <param name="cancel">Ends the read.</param>
    public async Task<TakingsSheet> LoadAsync(string? day, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        return await LoadAsync(context, await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel), day, cancel);
    }

    /// <summary>The same on paper.</summary>
    public async Task<byte[]> PaperAsync(string? day, LetterReader reader, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var now = time.GetUtcNow();
        var settings = await CurrentSettings.LoadAsync(context, now, cancel);
        var sheet = await LoadAsync(context, settings, day, cancel);
        var rows = sheet.Payments.Select(p => new TakingsRow(p.Means, p.Amount, p.Document, p.Order, p.Customer, p.Note));
        return LetterWriter.Write(
            BookLetters.Takings(sheet.Day, sheet.Currency, [.. rows], reader),
            heads.Of(settings, InvoiceTerms.Seller(settings.Profile), reader),
            InvoiceTerms.Paper(settings.Profile),
            now.UtcDateTime
        );
    }

    private async Task<TakingsSheet> LoadAsync(ShopContext context, CurrentSettings settings, string? text, CancellationToken cancel)
    {
        var today = settings.Day(time.GetUtcNow());
        var day = DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var read)
            ? read
            : today;
        var payments = await Takings.LoadAsync(context, day, day, cancel);
        return new TakingsSheet(day, today, settings.Profile.Currency, [.. payments.Where(p => p.IsMoney)]);
    }
}

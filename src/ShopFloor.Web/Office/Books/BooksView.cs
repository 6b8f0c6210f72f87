using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Documents.Letters;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Books;

/// <summary>A document in the books; what a credit note takes back is below zero.</summary>
/// <param name="Corrects">Number of the document that it takes back; empty: none.</param>
/// <param name="Paid">What came in for it, or was taken off from the account, so far.</param>
/// <param name="PaidOn">The day since which nothing of it is open; null: something is, or it is a credit note.</param>
public sealed record BookDocument(
    string Number,
    DateOnly Day,
    string Kind,
    int Order,
    string Customer,
    string Country,
    string VatId,
    IReadOnlyList<TaxGroup> Groups,
    decimal Rounding,
    decimal Total,
    string Currency,
    string Corrects,
    DateOnly? Due,
    decimal Paid,
    DateOnly? PaidOn
);

/// <summary>The books of a month: what was issued and what came in.</summary>
public sealed record BooksSheet(
    DateOnly Month,
    DateOnly Today,
    string Currency,
    string TaxLabel,
    IReadOnlyList<BookDocument> Documents,
    IReadOnlyList<BookPayment> Payments
)
{
    /// <summary>By rate of tax.</summary>
    public IReadOnlyList<RateSum> Rates =>
        [
            .. Documents
                .SelectMany(d => d.Groups.Select(g => (d.Number, Group: g)))
                .GroupBy(g => (Letter: g.Group.Kind.Category.Code(), g.Group.Kind.Percent))
                .OrderByDescending(g => g.Key.Percent)
                .ThenBy(g => g.Key.Letter, StringComparer.Ordinal)
                .Select(g => new RateSum(
                    g.Key.Letter,
                    g.Key.Percent,
                    g.Select(x => x.Number).Distinct(StringComparer.Ordinal).Count(),
                    g.Sum(x => x.Group.Taxable),
                    g.Sum(x => x.Group.Tax)
                )),
        ];

    /// <summary>What the documents were rounded by.</summary>
    public decimal Rounding => Documents.Sum(d => d.Rounding);

    /// <summary>What they come to, with tax.</summary>
    public decimal Total => Documents.Sum(d => d.Total);

    /// <summary>By kind of document.</summary>
    public IReadOnlyList<(string Kind, int Count, decimal Total)> Kinds =>
        [
            .. Documents
                .GroupBy(d => d.Kind)
                .OrderBy(g => g.Key, StringComparer.Ordinal)
                .Select(g => (g.Key, g.Count(), g.Sum(d => d.Total))),
        ];

    /// <summary>By way of paying; what was only set off is none of it.</summary>
    public IReadOnlyList<MeansSum> Means => Takings.ByMeans(Payments);

    /// <summary>As it stands on paper.</summary>
    public MonthPaper Paper => new(Month, Currency, TaxLabel, Rates, Rounding, Kinds, [.. Means.Select(m => (m.Means, m.Count, m.Amount))]);
}

/// <summary>Reads the books of a month.</summary>
public sealed class BooksView(IDbContextFactory<ShopContext> contexts, Letterheads heads, TimeProvider time) : IPageView
{
    private sealed record Row(IssuedDocument Document, int Order, string Corrects);

    /// <summary>A month, like <c>2026-05</c>; anything else: the one before this.</summary>
    public async Task<BooksSheet> LoadAsync(string? month, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        return await LoadAsync(context, await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel), month, cancel);
    }

    /// <summary>The month and its sums on paper.</summary>
    public async Task<(BooksSheet Sheet, byte[] Pdf)> PaperAsync(string? month, LetterReader reader, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var now = time.GetUtcNow();
        var settings = await CurrentSettings.LoadAsync(context, now, cancel);
        var sheet = await LoadAsync(context, settings, month, cancel);
        var pdf = LetterWriter.Write(
            BookLetters.Month(sheet.Paper, reader),
            heads.Of(settings, InvoiceTerms.Seller(settings.Profile), reader),
            InvoiceTerms.Paper(settings.Profile),
            now.UtcDateTime
        );
        return (sheet, pdf);
    }

    private async Task<BooksSheet> LoadAsync(ShopContext context, CurrentSettings settings, string? month, CancellationToken cancel)
    {
        var today = settings.Day(time.GetUtcNow());
        var first = Period.ReadMonth(month, today.AddMonths(-1));
        var last = first.AddMonths(1).AddDays(-1);
        return new BooksSheet(
            first,
            today,
            settings.Profile.Currency,
            settings.Invoices.SystemOn(last).Label,
            await DocumentsAsync(context, first, last, cancel),
            await Takings.LoadAsync(context, first, last, cancel)
        );
    }

    private static async Task<IReadOnlyList<BookDocument>> DocumentsAsync(
        ShopContext context,
        DateOnly first,
        DateOnly last,
        CancellationToken cancel
    )
    {
        var rows = await (
            from d in context.Documents.AsNoTracking()
            join o in context.Orders on d.Order equals o.Id
            where d.Kind != Reminders.Kind && d.Day >= first && d.Day <= last
            select new Row(d, o.Number, context.Documents.Where(c => c.Id == d.Corrects).Select(c => c.Number).FirstOrDefault() ?? "")
        ).ToListAsync(cancel);
        var ids = rows.ConvertAll(r => r.Document.Id);
        var settled = (
            await context
                .Payments.AsNoTracking()
                .Where(p => p.Document != null && ids.Contains(p.Document.Value))
                .Select(p => new
                {
                    Id = p.Document!.Value,
                    p.Day,
                    p.Amount,
                })
                .ToListAsync(cancel)
        ).ToLookup(p => p.Id, p => (p.Day, p.Amount));
        var credited = (
            await context
                .Documents.AsNoTracking()
                .Where(d => d.Kind != Reminders.Kind && d.Corrects != null && ids.Contains(d.Corrects.Value))
                .Select(d => new
                {
                    Id = d.Corrects!.Value,
                    d.Day,
                    d.Total,
                })
                .ToListAsync(cancel)
        ).ToLookup(d => d.Id, d => (d.Day, d.Total));
        return
        [
            .. rows.OrderBy(r => r.Document.Day)
                .ThenBy(r => r.Document.At)
                .ThenBy(r => r.Document.Number, StringComparer.Ordinal)
                .Select(r => Of(r, [.. settled[r.Document.Id]], [.. credited[r.Document.Id]])),
        ];
    }

    private static BookDocument Of(
        Row row,
        IReadOnlyList<(DateOnly Day, decimal Amount)> paid,
        IReadOnlyList<(DateOnly Day, decimal Amount)> credited
    )
    {
        var (document, issued) = (row.Document, OrderAccount.Read(row.Document.Json));
        var isNote = issued.Content.Kind == DocumentKind.CreditNote;
        var sign = isNote ? -1m : 1m;
        return new BookDocument(
            document.Number,
            document.Day,
            document.Kind,
            row.Order,
            document.CustomerName,
            issued.Content.Buyer?.Address.Country ?? "",
            issued.Content.Buyer?.VatId ?? "",
            [.. issued.Totals.Groups.Select(g => g with { Taxable = sign * g.Taxable, Tax = sign * g.Tax })],
            sign * issued.Totals.Rounding,
            sign * issued.Totals.Payable,
            document.Currency,
            row.Corrects,
            document.Due,
            paid.Sum(p => p.Amount),
            isNote ? null : Settled(issued, [.. paid, .. credited])
        );
    }

    /// <summary>The day on which the last of it came in or was taken back; the day of issue of what asks for nothing.</summary>
    private static DateOnly? Settled(IssuedInvoice issued, IReadOnlyList<(DateOnly Day, decimal Amount)> moves)
    {
        var (left, day) = (issued.Totals.Payable, issued.Date);
        foreach (var move in moves.OrderBy(m => m.Day))
        {
            if (left <= 0m && move.Amount > 0m)
                break;
            (left, day) = (left - move.Amount, move.Day > day ? move.Day : day);
        }
        return left <= 0m ? day : null;
    }
}

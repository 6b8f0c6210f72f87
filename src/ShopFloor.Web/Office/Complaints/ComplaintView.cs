using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Complaints;

/// <summary>A complaint as pages show it.</summary>
public sealed record ComplaintRow(
    Guid Id,
    int Version,
    int Order,
    string Customer,
    DateTime At,
    string Words,
    ComplaintState State,
    string Answer,
    DateTime? DecidedAt,
    IReadOnlyList<string> Pieces,
    int? Remake,
    string? CreditNote
);

/// <summary>Reads complaints.</summary>
public sealed class ComplaintView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    private const int Most = 500;

    /// <summary>All, the open first, then the newest; of one order or of all.</summary>
    public async Task<IReadOnlyList<ComplaintRow>> LoadAsync(OrderId? order = null, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var zone = (await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel)).Zone;
        DateTime Local(DateTimeOffset at) => TimeZoneInfo.ConvertTime(at, zone).DateTime;
        var rows = await context
            .Complaints.AsNoTracking()
            .Where(c => order == null || c.Order == order)
            .OrderByDescending(c => c.State == ComplaintState.Open)
            .ThenByDescending(c => c.At)
            .Take(Most)
            .ToListAsync(cancel);
        var orderIds = rows.Select(c => c.Order)
            .Concat(rows.Where(c => c.Remake is not null).Select(c => c.Remake!.Value))
            .Distinct()
            .ToList();
        var orders = await context
            .Orders.AsNoTracking()
            .Where(o => orderIds.Contains(o.Id))
            .Select(o => new
            {
                o.Id,
                o.Number,
                o.Contact.Name,
            })
            .ToDictionaryAsync(o => o.Id, cancel);
        var pieceIds = rows.SelectMany(c => c.Pieces).Distinct().ToList();
        var codes = await context.Pieces.Where(p => pieceIds.Contains(p.Id)).ToDictionaryAsync(p => p.Id, p => p.Code, cancel);
        var noteIds = rows.Where(c => c.CreditNote is not null).Select(c => c.CreditNote!.Value).ToList();
        var notes = await context.Documents.Where(d => noteIds.Contains(d.Id)).ToDictionaryAsync(d => d.Id, d => d.Number, cancel);
        return
        [
            .. rows.Select(c => new ComplaintRow(
                c.Id,
                c.Version,
                orders[c.Order].Number,
                orders[c.Order].Name,
                Local(c.At),
                c.Words,
                c.State,
                c.Answer,
                c.DecidedAt is { } decided ? Local(decided) : null,
                [.. c.Pieces.Select(p => codes.GetValueOrDefault(p, ""))],
                c.Remake is { } remake ? orders[remake].Number : null,
                c.CreditNote is { } note ? notes.GetValueOrDefault(note) : null
            )),
        ];
    }
}

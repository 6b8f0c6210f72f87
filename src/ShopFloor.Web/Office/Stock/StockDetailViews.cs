using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Stock;

/// <summary>One change of stock, for people.</summary>
public sealed record MoveRow(
    EntryId Id,
    DateTime At,
    decimal Amount,
    StockReason Reason,
    string? Piece,
    string? Batch,
    string By,
    string Note
);

/// <summary>A can with all that is known of it.</summary>
public sealed record CanDetail(
    CanRow Can,
    CoatingId Coating,
    bool CanWeigh,
    Guid? Sheet,
    string SheetName,
    IReadOnlyList<MoveRow> Moves,
    TimeZoneInfo Zone
);

/// <summary>A stock item with all that is known of it.</summary>
public sealed record ItemDetail(
    string Code,
    string Kind,
    StockItemFacts Facts,
    decimal OnHand,
    string PaperSize,
    string Blank,
    IReadOnlyList<MoveRow> Moves,
    int Version,
    IReadOnlyList<DatedPrice> Prices,
    DateOnly Today,
    string Currency,
    IReadOnlyDictionary<string, string> Names
);

/// <summary>One can, one stock item, one safety data sheet.</summary>
public sealed class StockDetailView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    private const int MostMoves = 100;

    /// <summary>A can; null: there is none of that code.</summary>
    public async Task<CanDetail?> CanAsync(string code, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var can = await context.Cans.AsNoTracking().FirstOrDefaultAsync(c => c.Code == code, cancel);
        if (can is null)
            return null;
        var now = time.GetUtcNow();
        var settings = await CurrentSettings.LoadAsync(context, now, cancel);
        var coating = await context.Coatings.AsNoTracking().FirstAsync(c => c.Id == can.Coating, cancel);
        var all = await context.Cans.AsNoTracking().Where(c => c.Coating == can.Coating && c.LeftMl > 0).ToListAsync(cancel);
        var today = settings.Day(now);
        var sheet = await context
            .SafetySheets.Where(s => s.Coating == can.Coating && s.Lot == can.Lot)
            .Select(s => new { s.Id, s.Name })
            .FirstOrDefaultAsync(cancel);
        return new CanDetail(
            StockView.Row(can, coating, today, Can.FirstExpiring(all, 0, today)?.Id == can.Id),
            coating.Id,
            coating.Settings is { EmptyCanGrams: not null, ContentGramsPerMl: not null },
            sheet?.Id.Value,
            sheet?.Name ?? "",
            await MovesAsync(context, context.StockMoves.Where(m => m.Can == can.Id), settings.Zone, cancel),
            settings.Zone
        );
    }

    /// <summary>A stock item; null: there is none of that code.</summary>
    public async Task<ItemDetail?> ItemAsync(string code, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var item = await context.StockItems.AsNoTracking().FirstOrDefaultAsync(i => i.Code == code, cancel);
        if (item is null)
            return null;
        var now = time.GetUtcNow();
        var settings = await CurrentSettings.LoadAsync(context, now, cancel);
        var blank = Blanks.Description(item.BlankJson);
        var words = blank is null
            ? ""
            : string.Create(
                CultureInfo.CurrentCulture,
                $"{settings.Material(blank.Material).Name}, {SizeEcho.Face(blank)}, {SizeEcho.Millimetres(blank.Thickness)}"
            );
        var moves = await MovesAsync(context, context.StockMoves.Where(m => m.Item == code), settings.Zone, cancel);
        return new ItemDetail(
            item.Code,
            item.Kind,
            item.Facts,
            item.OnHand,
            item.PaperSize,
            words,
            moves,
            item.Version,
            item.Prices,
            settings.Day(now),
            settings.Profile.Currency,
            Blanks.Names(item.BlankJson)
        );
    }

    /// <summary>A kept safety data sheet; null: there is none.</summary>
    public async Task<(byte[] Content, string Name)?> SheetAsync(Guid id, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var wanted = new EntryId(id);
        var sheet = await context.SafetySheets.AsNoTracking().FirstOrDefaultAsync(s => s.Id == wanted, cancel);
        return sheet is null ? null : (sheet.Content, sheet.Name);
    }

    private static async Task<IReadOnlyList<MoveRow>> MovesAsync(
        ShopContext context,
        IQueryable<StockMove> moves,
        TimeZoneInfo zone,
        CancellationToken cancel
    )
    {
        var rows = await (
            from m in moves.OrderByDescending(m => m.At).Take(MostMoves)
            join p in context.Pieces on m.Piece equals p.Id into pieces
            from p in pieces.DefaultIfEmpty()
            join b in context.Batches on m.Batch equals b.Id into batches
            from b in batches.DefaultIfEmpty()
            orderby m.At descending
            select new
            {
                m.Id,
                m.At,
                m.Amount,
                m.Reason,
                Piece = p == null ? null : p.Code,
                Batch = b == null ? null : b.Code,
                m.By,
                m.Note,
            }
        ).ToListAsync(cancel);
        var names = (await context.Users.Select(u => new { u.Id, u.DisplayName }).ToListAsync(cancel)).ToDictionary(
            u => u.Id.ToString(),
            u => u.DisplayName,
            StringComparer.Ordinal
        );
        return
        [
            .. rows.Select(r => new MoveRow(
                r.Id,
                TimeZoneInfo.ConvertTime(r.At, zone).DateTime,
                r.Amount,
                r.Reason,
                r.Piece,
                r.Batch,
                r.By == "system" ? "the program" : names.GetValueOrDefault(r.By, r.By),
                r.Note
            )),
        ];
    }
}

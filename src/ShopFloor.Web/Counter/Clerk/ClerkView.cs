using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Counter.Offers;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Counter.Clerk;

/// <summary>A line of an order that can be repeated.</summary>
/// <param name="What">How many of what.</param>
/// <param name="Finish">Its finish.</param>
/// <param name="Material">What it is made of.</param>
/// <param name="Entry">As it was entered, to draw it.</param>
public sealed record LineHit(int Number, string What, Finish Finish, MaterialSheet Material, LineEntry Entry)
{
    /// <summary>Coats that make the look.</summary>
    public int Coats { get; init; } = 1;

    /// <summary>Its picture may still be laid anew.</summary>
    public bool MayLay { get; init; }

    /// <summary>Whether there is something to see on it.</summary>
    public bool IsDecorated => Entry.Picture is not null || Entry.Text.Length > 0;
}

/// <summary>An order that can be repeated.</summary>
/// <param name="Booked">Shop-local.</param>
public sealed record OrderHit(OrderId Id, int Number, string Name, DateTime Booked, IReadOnlyList<LineHit> Lines);

/// <summary>What a clerk is offered.</summary>
public sealed record ClerkFound(IReadOnlyList<OrderHit> Orders, IReadOnlyList<OpenEntry> Drafts)
{
    /// <summary>By what pictures are laid and judged.</summary>
    public PrintRules Rules { get; init; } = new(0);
}

/// <summary>Finds earlier orders by name or number, the last ones first, and entries that were put by.</summary>
public sealed class ClerkView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    private const int Most = 12;

    public async Task<ClerkFound> RunAsync(string text, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var settings = await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel);
        var number = int.TryParse(text, CultureInfo.InvariantCulture, out var n) ? n : -1;
        // SQLite compares letters beyond ASCII only as they are written, so names are compared here.
        var names = await context
            .Orders.AsNoTracking()
            .Select(o => new
            {
                o.Id,
                o.Number,
                o.Contact.Name,
            })
            .ToListAsync(cancel);
        var ids = names
            .Where(o => o.Number == number || o.Name.Contains(text, StringComparison.CurrentCultureIgnoreCase))
            .OrderByDescending(o => o.Number)
            .Take(Most)
            .Select(o => o.Id)
            .ToList();
        var orders = await context.Orders.AsNoTracking().Where(o => ids.Contains(o.Id)).ToListAsync(cancel);
        var shown = orders.SelectMany(o => o.Lines).Select(l => l.Picture).OfType<PictureId>().Distinct().ToList();
        var coats = await LookCoats.LoadAsync(context, time.GetUtcNow(), cancel);
        var pictures = await context.Pictures.AsNoTracking().Where(p => shown.Contains(p.Id)).ToDictionaryAsync(p => p.Id, cancel);
        return new ClerkFound(
            [.. orders.OrderByDescending(o => o.Number).Select(o => Hit(o, pictures, settings, coats))],
            await OpenEntries.OfAsync(context, settings, time.GetUtcNow(), cancel)
        )
        {
            Rules = PrintRules.Of(settings.Profile),
        };
    }

    /// <summary>A line of an order, for its picture.</summary>
    public async Task<OrderLine?> LookAsync(OrderId id, int line, CancellationToken cancel)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var order = await context.Orders.AsNoTracking().FirstOrDefaultAsync(o => o.Id == id, cancel);
        return order?.Lines.FirstOrDefault(l => l.Number == line);
    }

    private static OrderHit Hit(Order order, Dictionary<PictureId, KeptPicture> pictures, CurrentSettings settings, LookCoats coats) =>
        new(
            order.Id,
            order.Number,
            order.Contact.Name,
            TimeZoneInfo.ConvertTime(order.BookedAt, settings.Zone).DateTime,
            [
                .. order
                    .Lines.OrderBy(l => l.Number)
                    .Select(l => new LineHit(
                        l.Number,
                        $"{l.Quantity} × {settings.Material(l.Piece.Material).Name} {SizeEcho.Face(l.Piece)}",
                        l.Finish,
                        settings.Material(l.Piece.Material),
                        LineAgain.Of(l, l.Picture is { } id ? pictures.GetValueOrDefault(id) : null, settings.Profile.BleedMillimetres)
                    )
                    {
                        MayLay = l.Picture is not null && order.MayLay().IsOk,
                        Coats = coats.Of(l.Finish, settings.Material(l.Piece.Material)),
                    }),
            ]
        );
}

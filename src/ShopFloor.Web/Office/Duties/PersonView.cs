using System.IO.Compression;
using System.Text;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Documents.Imaging;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Duties;

/// <summary>A customer and what is held of them.</summary>
public sealed record PersonRow(
    CustomerId Id,
    string Name,
    string Email,
    string Phone,
    int Orders,
    int Documents,
    DateTime? ErasedAt,
    DateOnly? DocumentsUntil
);

/// <summary>A payment of a person, as it is given out.</summary>
/// <param name="Order">The order.</param>
/// <param name="Paper">Number of the paper that it settles; null: on account.</param>
/// <param name="Amount">Negative: paid back.</param>
/// <param name="Currency">ISO 4217.</param>
/// <param name="Day">When, shop-local.</param>
/// <param name="Means">Cash, transfer or card.</param>
/// <param name="Note">The payer's words.</param>
public sealed record PersonPayment(OrderId Order, string? Paper, decimal Amount, string Currency, DateOnly Day, string Means, string Note);

/// <summary>Finds what is held of one person, and gives it out.</summary>
public sealed class PersonView(IDbContextFactory<ShopContext> contexts, PictureFolder pictures, TimeProvider time, PictureDoor door)
    : IPageView
{
    private const int Most = 50;

    /// <summary>Customers whose name, address or number fits; without words those that were erased.</summary>
    public async Task<IReadOnlyList<PersonRow>> FindAsync(string? words, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var like = $"%{(words ?? "").Trim()}%";
        var found = string.IsNullOrWhiteSpace(words)
            ? context.Customers.Where(c => c.ErasedAt != null)
            : context.Customers.Where(c =>
                EF.Functions.Like(c.Contact.Name, like)
                || EF.Functions.Like(c.Contact.Email, like)
                || EF.Functions.Like(c.Contact.Phone, like)
                || EF.Functions.Like(c.Company, like)
            );
        var people = await found.AsNoTracking().OrderBy(c => c.Contact.Name).Take(Most).ToListAsync(cancel);
        var ids = people.ConvertAll(c => c.Id);
        var orders = await context.Orders.Where(o => ids.Contains(o.Customer)).Select(o => new { o.Id, o.Customer }).ToListAsync(cancel);
        var orderIds = orders.ConvertAll(o => o.Id);
        var documents = await context.Documents.Where(d => orderIds.Contains(d.Order)).Select(d => d.Order).ToListAsync(cancel);
        var erased = await context.Erasures.AsNoTracking().Where(e => ids.Contains(e.Customer)).ToDictionaryAsync(e => e.Customer, cancel);
        var zone = (await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel)).Zone;
        return
        [
            .. people.Select(c => new PersonRow(
                c.Id,
                c.Contact.Name,
                c.Contact.Email,
                c.Contact.Phone,
                orders.Count(o => o.Customer == c.Id),
                documents.Count(d => orders.Exists(o => o.Id == d && o.Customer == c.Id)),
                c.ErasedAt is { } at ? TimeZoneInfo.ConvertTime(at, zone).DateTime : null,
                erased.GetValueOrDefault(c.Id)?.DocumentsUntil
            )),
        ];
    }

    /// <summary>Everything of one person as a zip: JSON, issued papers, pictures. Null when there is nobody.</summary>
    public async Task<byte[]?> ExportAsync(CustomerId id, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        if (await context.Customers.AsNoTracking().FirstOrDefaultAsync(c => c.Id == id, cancel) is not { } customer)
            return null;
        var orders = await context.Orders.AsNoTracking().Where(o => o.Customer == id).OrderBy(o => o.Number).ToListAsync(cancel);
        var ids = orders.ConvertAll(o => o.Id);
        var bytes = new MemoryStream();
        await using (var zip = new ZipArchive(bytes, ZipArchiveMode.Create, leaveOpen: true))
        {
            await JsonAsync(zip, "customer.json", customer, cancel);
            await JsonAsync(zip, "orders.json", orders, cancel);
            await JsonAsync(
                zip,
                "pieces.json",
                await context.Pieces.AsNoTracking().Where(p => ids.Contains(p.Order)).ToListAsync(cancel),
                cancel
            );
            await JsonAsync(
                zip,
                "complaints.json",
                await context.Complaints.AsNoTracking().Where(c => ids.Contains(c.Order)).ToListAsync(cancel),
                cancel
            );
            await JsonAsync(
                zip,
                "messages.json",
                await context
                    .Outbox.AsNoTracking()
                    .Where(m => m.Order != null && ids.Contains(m.Order.Value) && m.Kind == "mail")
                    .ToListAsync(cancel),
                cancel
            );
            await JsonAsync(zip, "payments.json", await PaymentsAsync(context, ids, cancel), cancel);
            foreach (var paper in await context.Documents.AsNoTracking().Where(d => ids.Contains(d.Order)).ToListAsync(cancel))
                await FileAsync(zip, $"papers/{paper.Number}.pdf", paper.Pdf, cancel);
            var sent = orders.SelectMany(o => o.AllLines).Select(l => l.Picture).OfType<PictureId>();
            foreach (var picture in sent.Concat(await PhotosAsync(context, ids, cancel)).Distinct().Where(pictures.Has))
                await PictureAsync(zip, picture, await pictures.CleanAsync(picture, cancel), cancel);
        }
        return bytes.ToArray();
    }

    // Who entered a payment is not the customer's own data.
    private static async Task<List<PersonPayment>> PaymentsAsync(ShopContext context, List<OrderId> orders, CancellationToken cancel) =>
        await context
            .Payments.AsNoTracking()
            .Where(p => p.Order != null && orders.Contains(p.Order.Value))
            .OrderBy(p => p.Day)
            .Select(p => new PersonPayment(
                p.Order!.Value,
                context.Documents.Where(d => d.Id == p.Document).Select(d => d.Number).FirstOrDefault(),
                p.Amount,
                p.Currency,
                p.Day,
                p.Means,
                p.Note
            ))
            .ToListAsync(cancel);

    // Photos of what the customer brought are known to the journal only; they are theirs, as when they are erased.
    private static async Task<IEnumerable<PictureId>> PhotosAsync(ShopContext context, List<OrderId> orders, CancellationToken cancel)
    {
        var entries = await (
            from p in context.Pieces.AsNoTracking()
            where orders.Contains(p.Order)
            join j in context.Journal.AsNoTracking() on p.Id equals j.Piece
            orderby j.Sequence
            select j
        ).ToListAsync(cancel);
        return entries.Select(j => j.Read()).OfType<PieceBooked>().SelectMany(b => b.Photos ?? []);
    }

    // Kept without an ending; a person who opens the zip needs one.
    private Task PictureAsync(ZipArchive zip, PictureId picture, byte[] file, CancellationToken cancel) =>
        FileAsync(zip, $"pictures/{picture.Value:N}.{door.Head(file).Value.Format.ToString().ToLowerInvariant()}", file, cancel);

    private static Task JsonAsync<T>(ZipArchive zip, string name, T content, CancellationToken cancel) =>
        FileAsync(zip, name, Encoding.UTF8.GetBytes(JsonSerializer.Serialize(content, JsonForms.Default)), cancel);

    private static async Task FileAsync(ZipArchive zip, string name, byte[] bytes, CancellationToken cancel)
    {
        await using var entry = await zip.CreateEntry(name).OpenAsync(cancel);
        await entry.WriteAsync(bytes, cancel);
    }
}

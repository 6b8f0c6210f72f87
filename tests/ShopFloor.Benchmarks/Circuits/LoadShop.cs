using Microsoft.AspNetCore.DataProtection;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Exchange;

namespace ShopFloor.Benchmarks.Circuits;

/// <summary>The database of a server that is not running: more work is booked into it, and what is in it is read.</summary>
internal sealed class LoadShop : IAsyncDisposable
{
    private readonly ServiceProvider services;
    private readonly string folder;

    public LoadShop(string folder)
    {
        this.folder = folder;
        var list = new ServiceCollection();
        list.AddLogging();
        list.AddSingleton(TimeProvider.System);
        list.AddSingleton<Notifier>();
        list.AddSingleton(new HostSettings { DataFolder = folder });
        list.AddShop(folder);
        // Nobody opens the pages of customers who are booked here: keys of their own will do.
        list.AddSingleton<IDataProtectionProvider>(new EphemeralDataProtectionProvider());
        list.AddSingleton<SecretBox>();
        services = list.BuildServiceProvider();
    }

    /// <summary>Books own pieces, each with a label of its own, takes them in and cleans them; the answer is their codes.</summary>
    public async Task<IReadOnlyList<string>> AddOwnPiecesAsync(int count)
    {
        using var scope = services.CreateScope();
        var booked = await BookAsync([Line(count, 60, 40)]);
        foreach (var code in booked.Codes)
        {
            Must(await scope.ServiceProvider.GetRequiredService<ReceivePieces>().RunAsync(Asked.BySystem(), new Target(code)));
            var clean = new FinishWish(new Target(code, 1));
            Must(await scope.ServiceProvider.GetRequiredService<FinishStep>().RunAsync(Asked.BySystem(), clean));
        }
        return booked.Codes;
    }

    /// <summary>Codes of the pieces of orders that were taken in under names that begin so.</summary>
    public async Task<IReadOnlyList<string>> CodesAsync(string externalId)
    {
        await using var context = await ContextAsync();
        var orders = await context.Orders.Where(o => o.ExternalId.StartsWith(externalId)).Select(o => o.Id).ToListAsync();
        return await context.Pieces.Where(p => orders.Contains(p.Order)).OrderBy(p => p.Code).Select(p => p.Code).ToListAsync();
    }

    /// <summary>Takes a piece in, as a scan at the Bench does.</summary>
    public async Task ReceiveAsync(string code)
    {
        using var scope = services.CreateScope();
        Must(await scope.ServiceProvider.GetRequiredService<ReceivePieces>().RunAsync(Asked.BySystem(), new Target(code)));
    }

    /// <summary>Takes a file in; the answer is how many things were new.</summary>
    public async Task<int> ImportAsync(ImportFile file)
    {
        using var scope = services.CreateScope();
        var input = new ImportInput(file.IsOrders ? ImportKind.Orders : ImportKind.Customers, file.Text, GoodRowsOnly: false);
        return Must(await scope.ServiceProvider.GetRequiredService<ImportRows>().RunAsync(Asked.BySystem(), input)).New;
    }

    /// <summary>Gives each line of an order that was taken in a picture of its own; the answer is the order's number.</summary>
    /// <param name="externalId">The order.</param>
    /// <param name="photos">JPEG files, used by turns; the kept pictures are links to them.</param>
    public async Task<int> PictureAsync(string externalId, IReadOnlyList<string> photos)
    {
        var kept = Directory.CreateDirectory(Path.Combine(folder, "pictures")).FullName;
        await using var context = await ContextAsync();
        var order = await context.Orders.SingleAsync(o => o.ExternalId == externalId);
        foreach (var line in order.Lines)
        {
            var picture = new PictureId(Guid.CreateVersion7());
            foreach (var kind in (string[])["original", "clean", "screen"])
                File.CreateSymbolicLink(Path.Combine(kept, $"{picture.Value:N}.{kind}"), photos[line.Number % photos.Count]);
            context.Pictures.Add(new KeptPicture(picture, "jpeg", 4000, 3000, 1, "", "photo.jpg", order.BookedAt));
            context.Entry(line).Property(l => l.Picture).CurrentValue = picture;
        }
        await context.SaveChangesAsync();
        return order.Number;
    }

    /// <summary>All commands that the database has kept.</summary>
    public async Task<HashSet<Guid>> CommandsAsync()
    {
        await using var context = await ContextAsync();
        return [.. await context.Commands.Select(c => c.Id).ToListAsync()];
    }

    /// <summary>How often each command of a set wrote an event for each piece; more than the moves of one tap would be a doubling.</summary>
    public async Task<IReadOnlyList<(Guid Command, PieceId Piece, string Kind)>> EntriesAsync()
    {
        await using var context = await ContextAsync();
        var entries = await context.Journal.AsNoTracking().ToListAsync();
        return [.. entries.Select(e => (e.Command, e.Piece, e.Read().GetType().Name))];
    }

    /// <summary>Codes of pieces whose journal, replayed, gives another state than the tables hold.</summary>
    public async Task<IReadOnlyList<string>> DifferentAfterReplayAsync()
    {
        await using var context = await ContextAsync();
        var journal = (await context.Journal.AsNoTracking().OrderBy(j => j.Sequence).ToListAsync()).ToLookup(j => j.Piece);
        var different = new List<string>();
        foreach (var piece in await context.Pieces.AsNoTracking().ToListAsync())
        {
            var again = new Piece(piece.Id);
            again.Replay([.. journal[piece.Id].Select(j => (j.Id, j.Read()))]);
            if (Facts(piece) != Facts(again))
                different.Add(piece.Code);
        }
        return different;
    }

    /// <summary>What SQLite says of the file: <c>ok</c> when it is whole.</summary>
    public async Task<string> IntegrityAsync()
    {
        await using var context = await ContextAsync();
        return (await context.Database.SqlQueryRaw<string>("PRAGMA integrity_check").ToListAsync())[0];
    }

    public async ValueTask DisposeAsync()
    {
        await services.DisposeAsync();
        Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
    }

    private static LineInput Line(int count, int width, int height) =>
        new()
        {
            Quantity = count,
            Finish = Finish.ShowThrough,
            Piece = new PieceDescription
            {
                Material = "al",
                Width = Length.FromMillimetres(width),
                Height = Length.FromMillimetres(height),
                Thickness = Length.FromMillimetres(1),
                IsOwn = true,
                DeclaredValue = 10,
                Hidden = HiddenParts.None,
            },
        };

    private async Task<BookedOrder> BookAsync(IReadOnlyList<LineInput> lines)
    {
        var input = new OrderInput
        {
            Contact = new Contact("Load Test", "load@shop.example", ""),
            Lines = lines,
            RiskAccepted = true,
            RightsAccepted = true,
            ContactAgreed = true,
        };
        await using (var context = await ContextAsync())
        {
            var facts = await ShopFacts.LoadAsync(context, TimeProvider.System.GetUtcNow(), default);
            input = input with { ShownPriceHashes = [.. lines.Select(l => JudgeLine.Of(l, facts, false, null).Quote.Price?.Hash ?? "")] };
        }
        using var scope = services.CreateScope();
        return Must(await scope.ServiceProvider.GetRequiredService<BookOrder>().RunAsync(Asked.BySystem(), input));
    }

    private Task<ShopContext> ContextAsync() => services.GetRequiredService<IDbContextFactory<ShopContext>>().CreateDbContextAsync();

    private static string Facts(Piece piece) =>
        $"{piece.State} {piece.HeldFrom} {piece.Reworks} {piece.IsBound} "
        + string.Join(
            ' ',
            piece.Items.OrderBy(i => i.Number).Select(i => $"{i.Number}:{i.State}:{i.StartedAt:O}:{i.FinishedAt:O}:{i.Batch}")
        );

    private static T Must<T>(Result<T> answer) =>
        answer.IsOk ? answer.Value : throw new InputFault(string.Join(' ', answer.Refusals.Select(r => r.Text)));
}

using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Pictures;

namespace ShopFloor.Web.Bench.Photos;

/// <summary>A photo of a piece's journal, for who may see the piece: Bench and owner. No other picture is reached this way.</summary>
public sealed class PhotoView(IDbContextFactory<ShopContext> contexts, PictureFolder folder) : IPageView
{
    /// <summary>Where a photo is shown.</summary>
    public static string Address(string code, PictureId photo) => $"bench/photos/{code}/{photo.Value:D}";

    /// <summary>The photos that an event names.</summary>
    public static IReadOnlyList<PictureId> Of(PieceEvent happened) =>
        happened switch
        {
            PieceBooked { Photos: { } photos } => photos,
            FaultFound { Photo: { } photo } => [photo],
            PieceInspected { Findings.Photo: { } photo } => [photo],
            TestJudged { Photo: { } photo } => [photo],
            _ => [],
        };

    /// <summary>Entries that may name a photo.</summary>
    internal static IQueryable<JournalEntry> With(IQueryable<JournalEntry> journal) =>
        journal.Where(j => EF.Functions.Like(j.Payload, "%\"photo\":%") || EF.Functions.Like(j.Payload, "%\"photos\":%"));

    /// <summary>The copy for screens, WebP; null when no event of the piece names it.</summary>
    public async Task<byte[]?> ReadAsync(string code, Guid photo, CancellationToken cancel)
    {
        var id = new PictureId(photo);
        await using var context = await contexts.CreateDbContextAsync(cancel);
        if (await Chosen.PieceAsync(context, Chosen.Clean(code), cancel) is not { } piece)
            return null;
        var entries = await context.Journal.AsNoTracking().Where(j => j.Piece == piece.Id).ToListAsync(cancel);
        return entries.Exists(e => Of(e.Read()).Contains(id)) && folder.Has(id) ? await folder.ScreenAsync(id, cancel) : null;
    }

    internal static async Task<IResult> SendAsync(string code, Guid photo, HttpContext http, PhotoView view)
    {
        var bytes = await view.ReadAsync(code, photo, http.RequestAborted);
        http.Response.Headers.CacheControl = "private, max-age=3600";
        return bytes is null ? Results.NotFound() : Results.Bytes(bytes, "image/webp");
    }
}

using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Counter.Proofs;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Office.Orders;

/// <summary>A line as it will look.</summary>
/// <param name="Number">1, 2, 3 …</param>
/// <param name="Entry">The line as it can be drawn.</param>
/// <param name="Finish">How it will look.</param>
/// <param name="Ground">Colour of what is not printed.</param>
/// <param name="Rules">By what pictures are laid and judged.</param>
public sealed record ProofLine(int Number, LineEntry Entry, Finish Finish, string Ground, PrintRules Rules)
{
    /// <summary>What may disappoint when it is printed so.</summary>
    public PrintDoubts Doubts { get; } = PrintDoubts.Of(Entry, LengthUnit.Millimetre, Rules);
}

/// <summary>What of an order is to be printed, as it will look on the pieces: the same drawing that the customer judges.</summary>
public sealed class ProofView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>The lines with a picture or a text.</summary>
    public async Task<IReadOnlyList<ProofLine>> LoadAsync(int number, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        if (await context.Orders.AsNoTracking().FirstOrDefaultAsync(o => o.Number == number, cancel) is not { } order)
            return [];
        var settings = await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel);
        var coats = await LookCoats.LoadAsync(context, time.GetUtcNow(), cancel);
        var ids = order.Lines.Select(l => l.Picture).OfType<PictureId>().ToList();
        var pictures = await context.Pictures.AsNoTracking().Where(p => ids.Contains(p.Id)).ToListAsync(cancel);
        return
        [
            .. order
                .Lines.OrderBy(l => l.Number)
                .Select(l => new ProofLine(
                    l.Number,
                    LineAgain.Of(l, pictures.Find(p => p.Id == l.Picture), settings.Profile.BleedMillimetres),
                    l.Finish,
                    coats.Css(l.Finish, settings.Material(l.Piece.Material)),
                    PrintRules.Of(settings.Profile)
                ))
                .Where(l => l.Entry is { Picture: not null } or { Text.Length: > 0 } or { List.Length: > 0 }),
        ];
    }

    /// <summary>The language in which the customer agreed; null when there is no such order.</summary>
    public async Task<string?> LanguageAsync(int number, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        return (await context.Orders.AsNoTracking().FirstOrDefaultAsync(o => o.Number == number, cancel))?.Language;
    }
}

/// <summary>The pictures of an order's lines, and the proof as a paper, by plain HTTP.</summary>
public static class ProofEndpoint
{
    public static void MapOrderProofs(this IEndpointRouteBuilder app)
    {
        app.MapGet("/office/orders/{number:int}/proof/{line:int}", PictureAsync)
            .RequireAuthorization(Policies.Office)
            .ExcludeFromDescription();
        app.MapGet("/office/orders/{number:int}/proof.pdf", PaperAsync).RequireAuthorization(Policies.Office).ExcludeFromDescription();
    }

    private static async Task<IResult> PaperAsync(int number, ProofView view, ProofPaper paper, ShopCultures cultures, HttpContext http)
    {
        var lines = await view.LoadAsync(number, http.RequestAborted);
        if (!ProofPaper.IsNeeded(lines.Select(l => l.Entry)))
            return Results.NotFound();
        http.Response.Headers.CacheControl = "no-store";
        // Of this flow alone: it is the customer who reads it.
        var language = await view.LanguageAsync(number, http.RequestAborted) ?? "";
        CultureInfo.CurrentUICulture = CultureInfo.CurrentCulture = cultures.For(language) ?? cultures.Own;
        var proved = lines.Select(l => new ProvedLine(l.Number, l.Entry, l.Finish, l.Ground)).ToList();
        var made = await paper.MakeAsync(number, proved, lines[0].Rules, http.RequestAborted);
        http.Response.Headers.ContentDisposition = string.Create(CultureInfo.InvariantCulture, $"inline; filename=\"proof-{number}.pdf\"");
        return Results.Bytes(made, "application/pdf");
    }

    /// <summary>Where the browser fetches it. The picture is part of the address: when another takes its place, the page must not show the earlier one.</summary>
    public static string Address(int order, int line, PictureId picture) =>
        string.Create(CultureInfo.InvariantCulture, $"office/orders/{order}/proof/{line}?picture={picture.Value:N}");

    private static async Task<IResult> PictureAsync(int number, int line, ProofView view, PictureViews pictures, HttpContext http)
    {
        var found = (await view.LoadAsync(number, http.RequestAborted)).FirstOrDefault(l => l.Number == line);
        if (found?.Entry.Picture is not { } picture || !pictures.Has(picture.Id))
            return Results.NotFound();
        var made = await pictures.MakeAsync(picture.Id, found.Finish, found.Entry.Material, 1000, http.RequestAborted);
        http.Response.Headers.CacheControl = "no-store";
        return made.IsOk ? Results.Bytes(made.Value, "image/webp") : Results.NotFound();
    }
}

using Microsoft.AspNetCore.Mvc;
using ShopFloor.Domain;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Counter.Proofs;
using ShopFloor.Web.Counter.Secrets;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Counter.Status;

/// <summary>The picture of a customer's own page, and the form that judges it.</summary>
public static class StatusEndpoints
{
    public static void MapStatus(this IEndpointRouteBuilder app)
    {
        app.MapGet("/status/{token}/picture/{line:int}", PictureAsync).AllowAnonymous().RequireRateLimiting(RequestLimits.Links);
        app.MapGet("/status/{token}/papers/{paper:guid}", PaperAsync).AllowAnonymous().RequireRateLimiting(RequestLimits.Links);
        app.MapGet("/status/{token}/proof.pdf", ProofAsync).AllowAnonymous().RequireRateLimiting(RequestLimits.Links);
        app.MapPost("/status/{token}/proof", JudgeAsync).AllowAnonymous().RequireRateLimiting(RequestLimits.Links);
        app.MapPost("/status/{token}/answer", AnswerAsync).AllowAnonymous().RequireRateLimiting(RequestLimits.Links);
    }

    private static async Task<IResult> PictureAsync(
        string token,
        int line,
        HttpContext http,
        StatusView view,
        PictureViews pictures,
        Misses misses
    )
    {
        SecretHeaders.On(http.Response);
        if (misses.TooMany(http))
            return Results.StatusCode(StatusCodes.Status429TooManyRequests);
        var status = await view.RunAsync(token, http.RequestAborted);
        if (status is null)
            misses.Note(http);
        var found = status?.Lines.FirstOrDefault(l => l.Number == line);
        if (found?.Entry.Picture is not { } picture || !pictures.Has(picture.Id))
            return Results.NotFound();
        var made = await pictures.MakeAsync(picture.Id, found.Finish, found.Entry.Material, 1000, http.RequestAborted);
        return made.IsOk ? Results.Bytes(made.Value, "image/webp") : Results.NotFound();
    }

    private static async Task<IResult> ProofAsync(string token, HttpContext http, StatusView view, ProofPaper paper, Misses misses)
    {
        SecretHeaders.On(http.Response);
        if (misses.TooMany(http))
            return Results.StatusCode(StatusCodes.Status429TooManyRequests);
        var status = await view.RunAsync(token, http.RequestAborted);
        if (status is null)
            misses.Note(http);
        if (status is null || !ProofPaper.IsNeeded(status.Lines.Select(l => l.Entry)))
            return Results.NotFound();
        var proved = status
            .Lines.Where(l => l.Entry is { Picture: not null } or { Text.Length: > 0 } or { List.Length: > 0 })
            .Select(l => new ProvedLine(l.Number, l.Entry, l.Finish, Grounds.CssOf(l.Finish, l.Material, l.Coats)));
        var made = await paper.MakeAsync(status.Number, [.. proved], status.Rules, http.RequestAborted);
        return Results.File(made, "application/pdf", string.Create(CultureInfo.InvariantCulture, $"proof-{status.Number}.pdf"));
    }

    private static async Task<IResult> JudgeAsync(
        string token,
        HttpContext http,
        JudgeProof judge,
        Misses misses,
        [FromForm] Guid command,
        [FromForm] bool approved,
        [FromForm] string? words,
        [FromForm] string? seen
    )
    {
        SecretHeaders.On(http.Response);
        if (misses.TooMany(http))
            return Results.StatusCode(StatusCodes.Status429TooManyRequests);
        return Back(
            http,
            misses,
            token,
            await judge.RunAsync(command, token, new ProofWord(approved, words ?? "", seen ?? ""), http.RequestAborted)
        );
    }

    private static async Task<IResult> AnswerAsync(
        string token,
        HttpContext http,
        AnswerQuestion answer,
        Misses misses,
        [FromForm] Guid command,
        [FromForm] int number,
        [FromForm] string? words
    )
    {
        SecretHeaders.On(http.Response);
        if (misses.TooMany(http))
            return Results.StatusCode(StatusCodes.Status429TooManyRequests);
        return Back(http, misses, token, await answer.RunAsync(command, token, number, words ?? "", http.RequestAborted));
    }

    private static async Task<IResult> PaperAsync(string token, Guid paper, HttpContext http, StatusView view, Misses misses)
    {
        SecretHeaders.On(http.Response);
        if (misses.TooMany(http))
            return Results.StatusCode(StatusCodes.Status429TooManyRequests);
        if (await view.PaperAsync(token, paper, http.RequestAborted) is { } found)
            return Results.File(found.Bytes, "application/pdf", found.Name);
        misses.Note(http);
        return Results.NotFound();
    }

    private static IResult Back(HttpContext http, Misses misses, string token, Result<Done> done)
    {
        if (done.Refusals.Any(r => r.Code == "link-gone"))
            misses.Note(http);
        var page = $"~/status/{Uri.EscapeDataString(token)}";
        return Results.LocalRedirect(done.IsOk ? $"{page}?said=true" : $"{page}?fault={Uri.EscapeDataString(done.Refusals[0].Code)}");
    }
}

using Microsoft.AspNetCore.Antiforgery;
using ShopFloor.Documents.Imaging;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Documents;

/// <summary>Papers as PDF by plain HTTP: to look at in the browser, and to print, which is written down first.</summary>
public static class PaperEndpoint
{
    public static void AddPapers(this IServiceCollection services) => services.AddSingleton<PaperSpool>();

    public static void MapPapers(this IEndpointRouteBuilder app)
    {
        var papers = app.MapGroup("/papers").RequireAuthorization(Policies.Bench);
        papers.MapGet("/{kind}/{subject}", LookAsync);
        papers.MapPost("/{kind}/{subject}", PrintAsync).DisableAntiforgery();
    }

    private static async Task<IResult> LookAsync(
        string kind,
        string subject,
        string? form,
        bool? tiles,
        PaperView view,
        PaperSpool spool,
        HttpContext context
    )
    {
        if (PaperWish.Read(kind, subject, form, tiles) is not { } wish)
            return Results.NotFound();
        return await AnswerAsync(context, spool, await view.MakeAsync(wish, Host(context.Request), context.RequestAborted));
    }

    /// <summary>Made first, so that nothing is written down that could not be made; then written down; then made again with its number.</summary>
    private static async Task<IResult> PrintAsync(
        string kind,
        string subject,
        string? form,
        bool? tiles,
        PaperView view,
        PrintPaper print,
        PaperSpool spool,
        IAntiforgery antiforgery,
        HttpContext context
    )
    {
        // Checked here and not by the framework, so that a missing token is answered like everywhere else.
        if (!await antiforgery.IsRequestValidAsync(context) || WorkerClaim.IdOf(context.User) is not { } worker)
            return Results.StatusCode(StatusCodes.Status403Forbidden);
        if (PaperWish.Read(kind, subject, form, tiles) is not { } wish)
            return Results.NotFound();
        var trial = await view.MakeAsync(wish, Host(context.Request), context.RequestAborted);
        if (!trial.IsOk)
            return await AnswerAsync(context, spool, trial);
        var command = Guid.TryParse((await context.Request.ReadFormAsync(context.RequestAborted))["command"], out var sent)
            ? sent
            : Guid.CreateVersion7();
        var order = new PaperPrint(trial.Value.Wish, trial.Value.Transfers) { Orders = trial.Value.Orders };
        var printed = await print.RunAsync(Asked.By(worker, command), order, CancellationToken.None);
        var made = printed.IsOk
            ? await view.MakeAsync(wish, Host(context.Request), context.RequestAborted)
            : Result<MadePaper>.Refused(printed.Refusals);
        return await AnswerAsync(context, spool, made);
    }

    /// <summary>Address of this site as it was asked for, with a slash at its end.</summary>
    internal static string Host(HttpRequest request) => $"{request.Scheme}://{request.Host}{request.PathBase}/";

    private static async Task<IResult> AnswerAsync(HttpContext context, PaperSpool spool, Result<MadePaper> made)
    {
        context.Response.Headers.CacheControl = "no-store";
        if (!made.IsOk)
            return Results.Text(
                string.Join('\n', made.Refusals.Select(r => r.Text)),
                "text/plain; charset=utf-8",
                statusCode: StatusCodes.Status409Conflict
            );
        var file = await spool.WriteAsync(made.Value.Paper, context.RequestAborted);
        // The page that shows a paper frames it; nobody else may.
        context.Response.Headers.ContentSecurityPolicy = SecurityHeaders.ForFramed;
        var name = string.Concat($"{made.Value.Wish.Name}.pdf".Select(c => char.IsAsciiLetterOrDigit(c) || c is '.' or '-' ? c : '-'));
        context.Response.Headers.ContentDisposition = $"inline; filename=\"{name}\"";
        return Results.Stream(file, "application/pdf");
    }
}

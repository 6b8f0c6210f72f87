using Microsoft.AspNetCore.Antiforgery;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Counter.Ticket;

/// <summary>The ticket as a file to print, for the device that booked. Printing is a POST: it is written down.</summary>
public static class TicketEndpoint
{
    public static void MapTicket(this IEndpointRouteBuilder app) =>
        app.MapPost("/counter/ticket/{draft:guid}/paper", PrintAsync).RequireAuthorization(Policies.Counter).DisableAntiforgery();

    private static async Task<IResult> PrintAsync(
        Guid draft,
        TicketView view,
        PrintTicket print,
        IAntiforgery antiforgery,
        HttpContext http
    )
    {
        // Checked here and not by the framework, so that a missing token is answered like everywhere else.
        if (!await antiforgery.IsRequestValidAsync(http) || WorkerClaim.IdOf(http.User) is not { } worker)
            return Results.StatusCode(StatusCodes.Status403Forbidden);
        http.Response.Headers.CacheControl = "no-store";
        var here = $"{http.Request.Scheme}://{http.Request.Host}{http.Request.PathBase}/";
        var made = await view.FileAsync(worker, draft, here, http.RequestAborted);
        if (!made.IsOk)
            return Results.NotFound();
        var form = await http.Request.ReadFormAsync(http.RequestAborted);
        var command = Guid.TryParse(form["command"], out var sent) ? sent : Guid.CreateVersion7();
        var printed = await print.RunAsync(Asked.By(worker, command), made.Value.Order, CancellationToken.None);
        if (!printed.IsOk)
            return Results.Text(printed.Refusals[0].Text, "text/plain; charset=utf-8", statusCode: StatusCodes.Status409Conflict);
        http.Response.Headers.ContentDisposition = $"inline; filename=\"{made.Value.Name}\"";
        return Results.Bytes(made.Value.Pdf, "application/pdf");
    }
}

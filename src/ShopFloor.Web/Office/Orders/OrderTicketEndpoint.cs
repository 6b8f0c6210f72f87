using Microsoft.AspNetCore.Antiforgery;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Ticket;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Office.Orders;

/// <summary>The customer's ticket of a booked order once more, by plain HTTP. Printing is a POST: it is written down.</summary>
public static class OrderTicketEndpoint
{
    public static void MapOrderTicket(this IEndpointRouteBuilder app) =>
        app.MapPost("/office/orders/{number:int}/ticket", PrintAsync)
            .RequireAuthorization(Policies.Office)
            .ExcludeFromDescription()
            .DisableAntiforgery();

    private static async Task<IResult> PrintAsync(
        int number,
        TicketAgain tickets,
        NewStatusLink links,
        PrintTicket print,
        IAntiforgery antiforgery,
        HttpContext http
    )
    {
        // Checked here and not by the framework, so that a missing token is answered like everywhere else.
        if (!await antiforgery.IsRequestValidAsync(http) || WorkerClaim.IdOf(http.User) is not { } worker)
            return Results.StatusCode(StatusCodes.Status403Forbidden);
        http.Response.Headers.CacheControl = "no-store";
        var form = await http.Request.ReadFormAsync(http.RequestAborted);
        var secret = "";
        if (Guid.TryParse(form["link"], out var command))
        {
            // The command that the page has made the link with: sent again it answers the same one.
            var link = await links.RunAsync(Asked.By(worker, command), number, CancellationToken.None);
            if (!link.IsOk)
                return Refused(link.Refusals[0].Text);
            secret = link.Value.Token;
        }
        var here = $"{http.Request.Scheme}://{http.Request.Host}{http.Request.PathBase}/";
        if (await tickets.FileAsync(number, secret, here, http.RequestAborted) is not { } file)
            return Results.NotFound();
        var printed = await print.RunAsync(Asked.By(worker), number, CancellationToken.None);
        if (!printed.IsOk)
            return Refused(printed.Refusals[0].Text);
        http.Response.Headers.ContentDisposition = $"inline; filename=\"{file.Name}\"";
        return Results.Bytes(file.Pdf, "application/pdf");
    }

    private static IResult Refused(string text) =>
        Results.Text(text, "text/plain; charset=utf-8", statusCode: StatusCodes.Status409Conflict);
}

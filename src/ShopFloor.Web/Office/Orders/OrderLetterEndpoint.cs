using Microsoft.AspNetCore.Antiforgery;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Office.Orders;

/// <summary>Letters about an order by plain HTTP. Printing is a POST: it is written down.</summary>
public static class OrderLetterEndpoint
{
    public static void MapOrderLetters(this IEndpointRouteBuilder app) =>
        app.MapPost("/office/orders/{number:int}/letters/{kind}", PrintAsync)
            .RequireAuthorization(Policies.Office)
            .DisableAntiforgery()
            .ExcludeFromDescription();

    private static async Task<IResult> PrintAsync(
        int number,
        string kind,
        OrderLetterView view,
        PrintLetter print,
        IAntiforgery antiforgery,
        HttpContext http
    )
    {
        // Checked here and not by the framework, so that a missing token is answered like everywhere else.
        if (!await antiforgery.IsRequestValidAsync(http) || WorkerClaim.IdOf(http.User) is not { } worker)
            return Results.StatusCode(StatusCodes.Status403Forbidden);
        if (!Enum.TryParse<OrderLetterKind>(kind, ignoreCase: true, out var wanted) || !Enum.IsDefined(wanted))
            return Results.NotFound();
        var form = await http.Request.ReadFormAsync(http.RequestAborted);
        var message = form["message"].ToString();
        var made = await view.MakeAsync(number, wanted, message.Length > 1000 ? message[..1000] : message, http.RequestAborted);
        if (made is null)
            return Results.Text(
                $"There is nothing to put on this paper: there is no order {number}, or none of its pieces is checked good yet.",
                "text/plain; charset=utf-8",
                statusCode: StatusCodes.Status409Conflict
            );
        _ = await print.RunAsync(Asked.By(worker), new LetterWish(number, wanted), CancellationToken.None);
        http.Response.Headers.CacheControl = "no-store";
        http.Response.Headers.ContentDisposition = string.Create(
            CultureInfo.InvariantCulture,
            $"inline; filename=\"order-{number}-{wanted.ToString().ToLowerInvariant()}.pdf\""
        );
        return Results.Bytes(made, "application/pdf");
    }
}

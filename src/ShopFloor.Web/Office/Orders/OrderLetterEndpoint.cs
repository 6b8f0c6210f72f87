using Microsoft.AspNetCore.Antiforgery;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Office.Orders;

/// <summary>Letters about an order by plain HTTP: to look at, and to print. Printing is a POST: it is written down.</summary>
public static class OrderLetterEndpoint
{
    public static void MapOrderLetters(this IEndpointRouteBuilder app)
    {
        var letters = app.MapGroup("/office/orders/{number:int}/letters").RequireAuthorization(Policies.Office).ExcludeFromDescription();
        letters.MapGet("/{kind}", LookAsync);
        letters.MapPost("/{kind}", PrintAsync).DisableAntiforgery();
    }

    private static async Task<IResult> LookAsync(int number, string kind, string? message, OrderLetterView view, HttpContext http)
    {
        if (KindOf(kind) is not { } wanted)
            return Results.NotFound();
        return Answer(http, number, wanted, await MakeAsync(view, http, number, wanted, message ?? ""));
    }

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
        if (KindOf(kind) is not { } wanted)
            return Results.NotFound();
        var form = await http.Request.ReadFormAsync(http.RequestAborted);
        var made = await MakeAsync(view, http, number, wanted, form["message"].ToString());
        if (made is not null)
        {
            var printed = await print.RunAsync(Asked.By(worker), new LetterWish(number, wanted), CancellationToken.None);
            if (!printed.IsOk)
                return Results.Text(printed.Refusals[0].Text, "text/plain; charset=utf-8", statusCode: StatusCodes.Status409Conflict);
        }
        return Answer(http, number, wanted, made);
    }

    private static OrderLetterKind? KindOf(string kind) =>
        Enum.TryParse<OrderLetterKind>(kind, ignoreCase: true, out var wanted) && Enum.IsDefined(wanted) ? wanted : null;

    private static Task<byte[]?> MakeAsync(OrderLetterView view, HttpContext http, int number, OrderLetterKind wanted, string message) =>
        view.MakeAsync(number, wanted, message.Length > 1000 ? message[..1000] : message, http.RequestAborted);

    private static IResult Answer(HttpContext http, int number, OrderLetterKind wanted, byte[]? made)
    {
        http.Response.Headers.CacheControl = "no-store";
        if (made is null)
            return Results.Text(
                $"There is nothing to put on this paper: there is no order {number}, or none of its pieces is checked good yet.",
                "text/plain; charset=utf-8",
                statusCode: StatusCodes.Status409Conflict
            );
        http.Response.Headers.ContentDisposition = string.Create(
            CultureInfo.InvariantCulture,
            $"inline; filename=\"order-{number}-{wanted.ToString().ToLowerInvariant()}.pdf\""
        );
        return Results.Bytes(made, "application/pdf");
    }
}

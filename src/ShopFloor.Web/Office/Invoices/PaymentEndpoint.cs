using Microsoft.AspNetCore.Antiforgery;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>Receipts for payments by plain HTTP: to look at, and to print. Printing is a POST: it is written down.</summary>
public static class PaymentEndpoint
{
    public static void MapPayments(this IEndpointRouteBuilder app)
    {
        var payments = app.MapGroup("/office/payments").RequireAuthorization(Policies.Office).ExcludeFromDescription();
        payments.MapGet("/{id:guid}/receipt", LookAsync);
        payments.MapPost("/{id:guid}/receipt", PrintAsync).DisableAntiforgery();
    }

    private static async Task<IResult> LookAsync(Guid id, PaymentReceiptView view, HttpContext http) =>
        Answer(http, await view.MakeAsync(id, http.RequestAborted));

    private static async Task<IResult> PrintAsync(
        Guid id,
        PaymentReceiptView view,
        PrintReceipt print,
        IAntiforgery antiforgery,
        HttpContext http
    )
    {
        // Checked here and not by the framework, so that a missing token is answered like everywhere else.
        if (!await antiforgery.IsRequestValidAsync(http) || WorkerClaim.IdOf(http.User) is not { } worker)
            return Results.StatusCode(StatusCodes.Status403Forbidden);
        var made = await view.MakeAsync(id, http.RequestAborted);
        if (made is not null)
        {
            var printed = await print.RunAsync(Asked.By(worker), new ReceiptWish(made.Number), CancellationToken.None);
            if (!printed.IsOk)
                return Results.Text(printed.Refusals[0].Text, "text/plain; charset=utf-8", statusCode: StatusCodes.Status409Conflict);
        }
        return Answer(http, made);
    }

    private static IResult Answer(HttpContext http, PaymentReceipt? made)
    {
        if (made is null)
            return Results.NotFound();
        http.Response.Headers.CacheControl = "no-store";
        http.Response.Headers.ContentDisposition = $"inline; filename=\"payment-{made.Number}.pdf\"";
        return Results.Bytes(made.Pdf, "application/pdf");
    }
}

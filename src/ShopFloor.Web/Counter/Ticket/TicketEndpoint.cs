using ShopFloor.Web.Security;

namespace ShopFloor.Web.Counter.Ticket;

/// <summary>The ticket as a file to print, for the device that booked.</summary>
public static class TicketEndpoint
{
    public static void MapTicket(this IEndpointRouteBuilder app) =>
        app.MapGet("/counter/ticket/{draft:guid}/paper", SendAsync).RequireAuthorization(Policies.Counter);

    private static async Task<IResult> SendAsync(Guid draft, TicketView view, HttpContext http)
    {
        http.Response.Headers.CacheControl = "no-store";
        var here = $"{http.Request.Scheme}://{http.Request.Host}{http.Request.PathBase}/";
        var made = await view.FileAsync(WorkerClaim.IdOf(http.User) ?? Guid.Empty, draft, here, http.RequestAborted);
        if (!made.IsOk)
            return Results.NotFound();
        http.Response.Headers.ContentDisposition = $"inline; filename=\"{made.Value.Name}\"";
        return Results.Bytes(made.Value.Pdf, "application/pdf");
    }
}

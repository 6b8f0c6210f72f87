using ShopFloor.Web.Commands;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Counter.Offers;

/// <summary>The paper of an offer by plain HTTP: to look at and print, or to save.</summary>
public static class OfferEndpoint
{
    public static void MapOffers(this IEndpointRouteBuilder app) =>
        app.MapGet("/clerk/offer/{draft:guid}/paper", PaperAsync).RequireAuthorization(Policies.Bench).ExcludeFromDescription();

    /// <summary>Where the paper of an entry's offer is fetched.</summary>
    public static string Address(Guid draft, bool save) => $"clerk/offer/{draft:D}/paper{(save ? "?save=true" : "")}";

    private static async Task<IResult> PaperAsync(Guid draft, bool? save, OfferView view, HttpContext http)
    {
        http.Response.Headers.CacheControl = "no-store";
        if (await view.PaperAsync(WorkerClaim.IdOf(http.User) ?? Guid.Empty, draft, http.RequestAborted) is not { } paper)
            return Results.NotFound();
        http.Response.Headers.ContentDisposition = $"{(save == true ? "attachment" : "inline")}; filename=\"{paper.Number}.pdf\"";
        return Results.Bytes(paper.Pdf, "application/pdf");
    }
}

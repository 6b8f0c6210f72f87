using ShopFloor.Domain;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Office.Duties;

/// <summary>One person's data as a file; written into the security log.</summary>
public static class PersonEndpoint
{
    public static void MapPersonExport(this IEndpointRouteBuilder app) =>
        app.MapGet("/office/duties/people/{id:guid}.zip", SendAsync).RequireAuthorization(Policies.Office).ExcludeFromDescription();

    private static async Task<IResult> SendAsync(Guid id, PersonView view, SecurityLog log, HttpContext http)
    {
        if (await view.ExportAsync(new CustomerId(id), http.RequestAborted) is not { } zip)
            return Results.NotFound();
        await log.NoteAsync(
            "person given out",
            WorkerClaim.IdOf(http.User)?.ToString() ?? "",
            id.ToString(),
            isGood: true,
            http.RequestAborted
        );
        http.Response.Headers.CacheControl = "no-store";
        return Results.File(zip, "application/zip", "personal-data.zip");
    }
}

using System.Text;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Office.Exchange;

/// <summary>Downloads of what the program holds. Each is written into the security log.</summary>
public static class ExchangeEndpoint
{
    public static void MapExchange(this IEndpointRouteBuilder app)
    {
        var files = app.MapGroup("/office/exchange").RequireAuthorization(Policies.Office).ExcludeFromDescription();
        files.MapGet("/everything.zip", EverythingAsync);
        foreach (var kind in Enum.GetValues<ImportKind>())
            files.MapGet(
                $"/{kind.ToString().ToLowerInvariant()}.csv",
                (EverythingOut view, SecurityLog log, HttpContext http) => OneAsync(kind, view, log, http)
            );
    }

    private static async Task<IResult> EverythingAsync(EverythingOut view, SecurityLog log, HostSettings settings, HttpContext http)
    {
        await NoteAsync(log, http, "everything");
        var file = AsideFile.New(settings);
        var isWhole = false;
        try
        {
            isWhole = await view.WriteAsync(file, http.RequestAborted);
        }
        finally
        {
            // What was written of it takes room.
            if (!isWhole)
                await file.DisposeAsync();
        }
        if (!isWhole)
            return Results.Text(
                "Everything is being exported just now. Wait until that file has arrived, then try again.",
                statusCode: StatusCodes.Status429TooManyRequests
            );
        file.Position = 0;
        http.Response.Headers.CacheControl = "no-store";
        return Results.File(file, "application/zip", "shopfloor-everything.zip");
    }

    private static async Task<IResult> OneAsync(ImportKind kind, EverythingOut view, SecurityLog log, HttpContext http)
    {
        await NoteAsync(log, http, kind.ToString());
        var text = await view.FileAsync(kind, http.RequestAborted);
        http.Response.Headers.CacheControl = "no-store";
        return Results.File(
            [.. Encoding.UTF8.Preamble, .. Encoding.UTF8.GetBytes(text)],
            "text/csv; charset=utf-8",
            $"{kind.ToString().ToLowerInvariant()}.csv"
        );
    }

    private static Task NoteAsync(SecurityLog log, HttpContext http, string what) =>
        log.NoteAsync("export", WorkerClaim.IdOf(http.User)?.ToString() ?? "", what, isGood: true, http.RequestAborted);
}

using ShopFloor.Web.Security;

namespace ShopFloor.Web.Office.Stock;

/// <summary>Downloads of safety data sheets: always saved as a file, never shown in the program's own origin.</summary>
public static class SafetySheetEndpoint
{
    /// <summary>Address of a sheet.</summary>
    public static string Of(Guid id) => $"papers-of-lots/{id}.pdf";

    public static void MapSafetySheets(this IEndpointRouteBuilder app) =>
        app.MapGet("/papers-of-lots/{id:guid}.pdf", SendAsync).RequireAuthorization(Policies.Bench);

    private static async Task<IResult> SendAsync(Guid id, StockDetailView view, HttpContext context, CancellationToken cancel)
    {
        if (await view.SheetAsync(id, cancel) is not { } sheet)
            return Results.NotFound();
        context.Response.Headers.CacheControl = "no-store";
        // A sent PDF may hold script: as an attachment with a closed policy it is the reader's, not ours.
        context.Response.Headers.ContentSecurityPolicy = "default-src 'none'; sandbox";
        context.Response.Headers.XContentTypeOptions = "nosniff";
        return Results.File(sheet.Content, "application/pdf", Safe(sheet.Name));
    }

    private static string Safe(string name) =>
        string.Concat(name.Select(c => char.IsAsciiLetterOrDigit(c) || c is '.' or '-' or '_' ? c : '-')) is var clean
        && clean.EndsWith(".pdf", StringComparison.OrdinalIgnoreCase)
            ? clean
            : $"{clean}.pdf";
}

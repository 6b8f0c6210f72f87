using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Http.Features;
using ShopFloor.Web.Live;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Shared.Uploads;

/// <summary>
/// Takes a file as the plain body of a POST, beside the circuit: choosing a file on a phone can close the circuit,
/// and the file must not be lost with it.
/// </summary>
public static class UploadEndpoint
{
    /// <summary>Header that carries the form token of the page.</summary>
    public const string TokenHeader = "RequestVerificationToken";

    public static void AddUploads(this IServiceCollection services) => services.AddSingleton<IncomingFiles>();

    public static void MapUploads(this IEndpointRouteBuilder app) =>
        app.MapPost("/uploads/{draft:guid}/{id:guid}", TakeAsync)
            .RequireAuthorization(Policies.Counter)
            .RequireRateLimiting(RequestLimits.Uploads);

    private static async Task<IResult> TakeAsync(
        Guid draft,
        Guid id,
        HttpContext context,
        IncomingFiles files,
        IAntiforgery antiforgery,
        Notifier notifier,
        Spoken spoken
    )
    {
        if (!await antiforgery.IsRequestValidAsync(context))
            return Results.StatusCode(StatusCodes.Status403Forbidden);
        if (context.Features.Get<IHttpMaxRequestBodySizeFeature>() is { IsReadOnly: false } size)
            size.MaxRequestBodySize = files.Limit + 1;
        if (context.Request.ContentLength > files.Limit)
            return Results.Json(
                new { text = spoken["This file is larger than {0} MB. Send a smaller one.", files.Limit / 1_000_000] },
                statusCode: 413
            );
        var taken = await files.TakeAsync(id, context.Request.Body, context.RequestAborted);
        if (!taken.IsOk)
            return Results.Json(new { text = spoken[taken.Refusals[0].Text] }, statusCode: 422);
        notifier.Tell([new Change(Topic.Draft, draft)]);
        return Results.Json(new { taken.Value.Id, taken.Value.Bytes });
    }
}

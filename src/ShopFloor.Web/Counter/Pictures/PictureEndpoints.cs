using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Secrets;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Counter.Pictures;

/// <summary>
/// Uploads by plain HTTP: they go on when the page's own line drops behind the phone's picture chooser, and can be sent again without
/// harm. The form of the phone works without script too.
/// </summary>
public static class PictureEndpoints
{
    public static void MapPictures(this IEndpointRouteBuilder app)
    {
        // Uploads check the form's token themselves, after the size, so that nobody can make the program read an endless body first.
        app.MapPost("/counter/order/{draft:guid}/pictures", FromDeviceAsync)
            .RequireAuthorization(Policies.Counter)
            .RequireRateLimiting(RequestLimits.Uploads)
            .DisableAntiforgery();
        app.MapPost("/p/{token}/picture", FromPhoneAsync).AllowAnonymous().RequireRateLimiting(RequestLimits.Uploads).DisableAntiforgery();
        app.MapGet("/counter/order/{draft:guid}/pictures/{picture:guid}", PictureViews.SeenAsync).RequireAuthorization(Policies.Counter);
    }

    private static async Task<IResult> FromDeviceAsync(Guid draft, HttpContext http, Uploads uploads, int line = 0, bool photo = false) =>
        WorkerClaim.IdOf(http.User) is { } worker
            ? await uploads.RunAsync(http, Asked.By(worker, Uploads.CommandOf(http)), new UploadTarget(draft, line, photo, null))
            : Results.Unauthorized();

    private static async Task<IResult> FromPhoneAsync(string token, HttpContext http, Uploads uploads, PhoneUpload phones, Misses misses)
    {
        SecretHeaders.On(http.Response);
        if (misses.TooMany(http))
            return Results.StatusCode(StatusCodes.Status429TooManyRequests);
        var found = await phones.RunAsync(token, http.RequestAborted);
        if (!found.IsOk)
        {
            misses.Note(http);
            return uploads.Refused(http, found.Refusals[0]);
        }
        var target = new UploadTarget(found.Value.Draft, found.Value.Line, IsPhoto: false, token);
        return await uploads.RunAsync(http, Asked.ByLink(Uploads.CommandOf(http)), target);
    }
}

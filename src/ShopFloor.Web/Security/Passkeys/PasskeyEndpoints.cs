using Microsoft.AspNetCore.Mvc;
using Microsoft.Extensions.Localization;
using ShopFloor.Domain;
using ShopFloor.Web.Shared;

namespace ShopFloor.Web.Security.Passkeys;

/// <summary>Tells the page's script (look/passkeys.js) what to ask the device for.</summary>
public static class PasskeyEndpoints
{
    public static void MapPasskeys(this IEndpointRouteBuilder app)
    {
        app.MapPost("/passkey/request", RequestAsync).AllowAnonymous().RequireRateLimiting(RequestLimits.Links);
        app.MapPost("/passkey/creation", CreationAsync).RequireAuthorization(Policies.Counter).RequireRateLimiting(RequestLimits.Links);
    }

    // The form value makes the framework check the form's token.
    private static async Task<IResult> RequestAsync(
        WorkerSignIn signIn,
        PasskeyDomain domain,
        HttpContext http,
        [FromForm(Name = "_handler")] string? form
    )
    {
        _ = form;
        http.Response.Headers.CacheControl = "no-store";
        return (await domain.OfAsync(http)).Length == 0
            ? Results.NotFound()
            : Results.Content(await signIn.MakePasskeyRequestOptionsAsync(null), "application/json");
    }

    private static async Task<IResult> CreationAsync(
        OwnPasskeyChange change,
        PasskeyDomain domain,
        HttpContext http,
        IStringLocalizer<SharedTexts> words,
        [FromForm(Name = "_handler")] string? form
    )
    {
        _ = form;
        http.Response.Headers.CacheControl = "no-store";
        if ((await domain.OfAsync(http)).Length == 0 || WorkerClaim.IdOf(http.User) is not { } worker)
            return Results.NotFound();
        Result<string> asked = await change.BeginAsync(worker, http.RequestAborted);
        return asked.IsOk
            ? Results.Content(asked.Value, "application/json")
            : Results.Json(new { text = words[asked.Refusals[0].Text].Value }, statusCode: StatusCodes.Status409Conflict);
    }
}

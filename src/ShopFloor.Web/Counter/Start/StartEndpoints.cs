using Microsoft.AspNetCore.Localization;
using Microsoft.AspNetCore.Mvc;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Clerk;
using ShopFloor.Web.Counter.Drafts;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Counter.Start;

/// <summary>Begins and ends entries, and keeps the language, by plain forms.</summary>
public static class StartEndpoints
{
    public static void MapStart(this IEndpointRouteBuilder app)
    {
        var counter = app.MapGroup("/counter").RequireAuthorization(Policies.Counter);
        counter.MapPost("/begin", BeginAsync);
        counter.MapPost("/order/{draft:guid}/wipe", WipeAsync);
        counter.MapPost("/repeat/{order:guid}", RepeatAsync);
        counter.MapGet("/language/{culture}", Speak);
    }

    private static async Task<IResult> BeginAsync([FromForm] bool own, HttpContext http, BeginDraft begin)
    {
        var entry = new OrderEntry { Unit = UnitHere, Lines = [new LineEntry { IsOwn = own }] };
        var begun = await begin.RunAsync(Asked.By(WorkerClaim.IdOf(http.User)!.Value), entry, CounterStep.Piece, http.RequestAborted);
        return begun.IsOk ? Results.LocalRedirect($"~/counter/order/{begun.Value:D}/piece") : NotBegun(begun.Refusals);
    }

    // The page of the first question says why.
    private static IResult NotBegun(IReadOnlyList<Refusal> refusals) =>
        Results.LocalRedirect($"~/counter?fault={Uri.EscapeDataString(refusals[0].Code)}");

    /// <summary>Why an entry was not begun, by the code that its page was told.</summary>
    internal static string WordsOf(string code) =>
        code switch
        {
            _ when code == CannotWrite.DiskFull.Code => CannotWrite.DiskFull.Text,
            _ when code == CannotWrite.NotNow.Code => CannotWrite.NotNow.Text,
            "no-right" => "You are not signed in for this. Sign in as somebody who may do it.",
            "order-missing" => "There is no such order.",
            _ => "It could not be begun. Try again; if it happens again, tell the owner.",
        };

    // The form value makes the framework check the form's token.
    private static async Task<IResult> WipeAsync(Guid draft, HttpContext http, WipeDraft wipe, [FromForm] string? leave)
    {
        await wipe.RunAsync(Asked.By(WorkerClaim.IdOf(http.User)!.Value), draft, http.RequestAborted);
        return Results.LocalRedirect(leave == "booked" ? "~/counter/closed?booked=true" : "~/counter/closed");
    }

    // The form value makes the framework check the form's token.
    private static async Task<IResult> RepeatAsync(Guid order, HttpContext http, RepeatOrder repeat, [FromForm] bool go)
    {
        var begun = await repeat.RunAsync(WorkerClaim.IdOf(http.User)!.Value, new OrderId(order), http.RequestAborted);
        return begun.IsOk ? Results.LocalRedirect($"~/counter/order/{begun.Value:D}/check") : NotBegun(begun.Refusals);
    }

    private static IResult Speak(string culture, HttpContext http, HostSettings settings, ShopCultures cultures, string? to)
    {
        if (cultures.For(culture) is { } spoken)
            http.Response.Cookies.Append(
                CookieRequestCultureProvider.DefaultCookieName,
                CookieRequestCultureProvider.MakeCookieValue(new RequestCulture(spoken.Name)),
                new CookieOptions
                {
                    HttpOnly = true,
                    IsEssential = true,
                    SameSite = SameSiteMode.Lax,
                    Secure = settings.Https,
                    MaxAge = TimeSpan.FromDays(365),
                }
            );
        return Results.LocalRedirect("~/" + (LocalAddress.Of(to) is { Length: > 0 } here ? here : "counter"));
    }

    private static LengthUnit UnitHere =>
        new RegionInfo(CultureInfo.CurrentCulture.Name).IsMetric ? LengthUnit.Millimetre : LengthUnit.Inch;
}

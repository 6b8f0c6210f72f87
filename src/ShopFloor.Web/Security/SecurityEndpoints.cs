using System.Text.Json;
using Microsoft.AspNetCore.Mvc;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.SignIns;
using ShopFloor.Web.Security.Passkeys;

namespace ShopFloor.Web.Security;

/// <summary>The few addresses of the fence that are no pages.</summary>
public static partial class SecurityEndpoints
{
    public static void MapSecurity(this IEndpointRouteBuilder app)
    {
        app.MapPost("/sign-out", SignOutAsync).RequireAuthorization();
        app.MapPasskeys();
        app.MapPost("/content-report", ReportAsync)
            .AllowAnonymous()
            .DisableAntiforgery()
            .WithMetadata(new RequestSizeLimitAttribute(16_000));
    }

    // The form value makes the framework check the form's token.
    private static async Task<IResult> SignOutAsync(
        WorkerSignIn signIn,
        HttpContext context,
        EndSessions sessions,
        [FromForm] string? leave,
        [FromForm] string? everywhere,
        [FromForm] string? keep
    )
    {
        if (everywhere is not null && WorkerClaim.IdOf(context.User) is { } worker)
            await sessions.RunAsync(Asked.By(worker), worker, context.RequestAborted);
        await signIn.SignOutAsync();
        // Where taps wait to be sent the page's script clears the rest of the store itself.
        context.Response.Headers["Clear-Site-Data"] = string.IsNullOrEmpty(keep) ? "\"cache\", \"storage\"" : "\"cache\"";
        return Results.LocalRedirect("~" + SecuritySetUp.SignInPath + (leave is null ? "" : "?left=true"));
    }

    private static async Task<IResult> ReportAsync(HttpContext context, ILogger<SecurityReports> logger)
    {
        try
        {
            using var report = await JsonDocument.ParseAsync(context.Request.Body);
            var directive = report.RootElement.GetProperty("csp-report").GetProperty("effective-directive").GetString();
            // Only names of directives get into the log, never what a stranger wrote.
            LogReport(logger, Known(directive));
            return Results.NoContent();
        }
        catch (Exception e) when (e is JsonException or KeyNotFoundException or InvalidOperationException)
        {
            return Results.BadRequest();
        }
    }

    private static string Known(string? directive) =>
        directive is not null && SecurityHeaders.ContentPolicy.Contains(directive + " ", StringComparison.Ordinal) ? directive : "another";

    [LoggerMessage(Level = LogLevel.Warning, Message = "A browser refused something on a page: {Directive}")]
    private static partial void LogReport(ILogger logger, string directive);
}

/// <summary>Category of what browsers report.</summary>
public sealed class SecurityReports;

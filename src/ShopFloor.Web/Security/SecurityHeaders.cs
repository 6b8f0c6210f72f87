namespace ShopFloor.Web.Security;

/// <summary>The headers that tell the browser what a page of this program may do.</summary>
public static class SecurityHeaders
{
    /// <summary>
    /// Everything from here and nothing inline. The one exception is the style attribute: the component library places its
    /// pop-overs with it (docs/decisions/004).
    /// </summary>
    public const string ContentPolicy =
        "default-src 'self'; base-uri 'self'; object-src 'none'; frame-ancestors 'none'; form-action 'self'; script-src 'self'; "
        + "style-src 'self'; style-src-elem 'self'; style-src-attr 'unsafe-inline'; img-src 'self' blob: data:; font-src 'self'; "
        + "connect-src 'self'; report-uri /content-report";

    /// <summary>For a file that a page of our own shows in a frame.</summary>
    public static string ForFramed { get; } =
        ContentPolicy.Replace("frame-ancestors 'none'", "frame-ancestors 'self'", StringComparison.Ordinal);

    public static void UseSecurityHeaders(this IApplicationBuilder app) =>
        app.Use(
            (context, next) =>
            {
                var headers = context.Response.Headers;
                headers.ContentSecurityPolicy = ContentPolicy;
                headers.XContentTypeOptions = "nosniff";
                headers["Referrer-Policy"] = "same-origin";
                headers["Cross-Origin-Opener-Policy"] = "same-origin";
                headers["Cross-Origin-Resource-Policy"] = "same-origin";
                headers["Permissions-Policy"] = "camera=(self), microphone=(), geolocation=(), payment=(), usb=()";
                return next(context);
            }
        );

    /// <summary>Refuses a change that another site's page sends with this user's cookie; the form token is the second lock.</summary>
    public static void UseSameSiteOnly(this IApplicationBuilder app) =>
        app.Use(
            (context, next) =>
            {
                var from = context.Request.Headers["Sec-Fetch-Site"].ToString();
                var harmless = HttpMethods.IsGet(context.Request.Method) || HttpMethods.IsHead(context.Request.Method);
                if (harmless && !context.WebSockets.IsWebSocketRequest || from is "" or "same-origin" or "none")
                    return next(context);
                context.Response.StatusCode = StatusCodes.Status403Forbidden;
                return Task.CompletedTask;
            }
        );
}

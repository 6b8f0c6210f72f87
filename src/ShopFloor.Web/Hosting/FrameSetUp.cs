using MudBlazor.Services;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Live;
using ShopFloor.Web.Security;
using ShopFloor.Web.Shared.Uploads;

namespace ShopFloor.Web.Hosting;

/// <summary>Pages and the way a request takes to them.</summary>
public static class FrameSetUp
{
    /// <summary>
    /// The most bytes of one message of a page: the longest text that a field takes (a list of a thousand texts, <see cref="TextList.MostLetters"/>)
    /// has at most three for each letter. What is larger never arrives, and the page would go on with what the field held before.
    /// </summary>
    public const int MostMessage = 1024 * 1024;

    public static void AddFrame(this IServiceCollection services)
    {
        services
            .AddRazorComponents()
            .AddInteractiveServerComponents(o => o.DetailedErrors = false)
            .AddHubOptions(o => o.MaximumReceiveMessageSize = MostMessage);
        services.AddMudServices();
        services.AddUploads();
        services.AddHealth();
    }

    /// <summary>The order matters: who calls, what is answered when it goes wrong, headers, files, limits, who they are, tokens.</summary>
    public static void UseFrame(this WebApplication app, HostSettings settings)
    {
        // Without known proxies nobody's word counts: with empty lists the framework would believe every caller.
        if (settings.KnownProxies.Count > 0)
            app.UseForwardedHeaders();
        if (settings.PathBase.Length > 0)
            app.UsePathBase(settings.PathBase);
        app.UseRequestLog();
        if (!app.Environment.IsDevelopment())
            app.UseExceptionHandler("/fault", createScopeForErrors: true);
        if (settings.Https)
            app.UseHsts();
        app.UseSecurityHeaders();
        app.UseSameSiteOnly();
        app.UseCannotWriteWords();
        app.UseWhen(
            context => PageRequest.IsWanted(context.Request),
            pages => pages.UseStatusCodePagesWithReExecute("/not-found", createScopeForStatusCodePages: true)
        );
        app.UseRouting();
        app.UseRequestLocalization();
        app.UseRateLimiter();
        app.UseAuthentication();
        app.UseAuthorization();
        app.UseAntiforgery();
    }

    public static void MapFrame(this WebApplication app)
    {
        app.MapStaticAssets().AllowAnonymous();
        app.MapHealth();
        app.MapClock();
        app.MapSecurity();
        app.MapUploads();
        // The header of ours says who may frame a page: nobody.
        app.MapRazorComponents<App>().AddInteractiveServerRenderMode(o => o.ContentSecurityFrameAncestorsPolicy = null);
    }
}

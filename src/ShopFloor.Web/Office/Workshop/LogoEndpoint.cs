using ShopFloor.Domain;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Office.Workshop;

/// <summary>Shows the owner the logo that letters carry: our own freshly coded copy.</summary>
public static class LogoEndpoint
{
    /// <summary>Where the picture is seen.</summary>
    public static string Of(PictureId picture) => $"office/workshop/logo/{picture.Value:D}";

    public static void MapLogo(this IEndpointRouteBuilder app) =>
        app.MapGet("/office/workshop/logo/{picture:guid}", SeenAsync).RequireAuthorization(Policies.Office).ExcludeFromDescription();

    private static async Task<IResult> SeenAsync(Guid picture, SettingsView view, PictureFolder folder, HttpContext http)
    {
        var id = new PictureId(picture);
        if ((await view.LoadAsync(http.RequestAborted)).Logo.Picture != id || !folder.Has(id))
            return Results.NotFound();
        http.Response.Headers.CacheControl = "private, max-age=3600";
        return Results.Bytes(await folder.ScreenAsync(id, http.RequestAborted), "image/webp");
    }
}

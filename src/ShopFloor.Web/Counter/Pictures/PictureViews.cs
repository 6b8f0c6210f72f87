using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Documents.Imaging;
using ShopFloor.Domain;
using ShopFloor.Domain.Colour;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Drafts;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Counter.Pictures;

/// <summary>Pictures as screens show them: always our own freshly coded copy, as it is or as it looks in a finish on a material.</summary>
public sealed class PictureViews(IDbContextFactory<ShopContext> contexts, PictureFolder folder, PictureDoor door, TimeProvider time)
    : IPageView
{
    private const int MostSide = 1600;

    /// <summary>A picture of a draft that the caller may see, or nothing.</summary>
    public static async Task<IResult> SeenAsync(
        Guid draft,
        Guid picture,
        HttpContext http,
        PictureViews views,
        Finish? finish = null,
        string material = "unknown",
        int side = 800
    )
    {
        if (WorkerClaim.IdOf(http.User) is not { } worker)
            return Results.Unauthorized();
        var cancel = http.RequestAborted;
        var id = new PictureId(picture);
        if (!await views.MaySeeAsync(worker, draft, id, cancel) || !views.Has(id))
            return Results.NotFound();
        var made = await views.MakeAsync(id, finish, material, Math.Clamp(side, 16, MostSide), cancel);
        http.Response.Headers.CacheControl = "private, max-age=3600";
        return made.IsOk ? Results.Bytes(made.Value, "image/webp") : Results.NotFound();
    }

    /// <summary>A copy, or its look in a finish on a material; for screens as WebP, for paper as JPEG.</summary>
    public async Task<Result<byte[]>> MakeAsync(
        PictureId id,
        Finish? finish,
        string material,
        int side,
        CancellationToken cancel,
        CopyFormat format = CopyFormat.Webp
    )
    {
        var spec = new CopySpec(side, format, 84);
        if (finish is { } shown)
        {
            var preview = new GroundPreview((await LookAsync(shown, material, cancel)).Look);
            spec = spec with { Work = (rgba, _, _) => preview.Render(rgba, rgba) };
        }
        return await door.CopyAsync(await folder.ScreenAsync(id, cancel), spec, cancel);
    }

    /// <summary>How much of a picture cannot be shown in a finish on a material, by the difference that the owner has set.</summary>
    public async Task<ReachOfPicture> LostAsync(PictureId id, Finish finish, string material, CancellationToken cancel)
    {
        var (look, visible) = await LookAsync(finish, material, cancel);
        ReachOfPicture lost = default;
        void Measure(Span<byte> rgba, int wide, int high) =>
            lost = PictureReach.Of(rgba, look, visible) is { IsOk: true } reach ? reach.Value.Value : default;
        await door.CopyAsync(await folder.ScreenAsync(id, cancel), new CopySpec(160, CopyFormat.Png) { Work = Measure }, cancel);
        return lost;
    }

    /// <summary>True when the files are there.</summary>
    public bool Has(PictureId id) => folder.Has(id);

    private async Task<bool> MaySeeAsync(Guid worker, Guid draft, PictureId id, CancellationToken cancel)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var found = await DraftAccess.FindAsync(context, draft, worker.ToString(), cancel);
        if (!found.IsOk)
            return false;
        return KeptOrder.Of(found.Value).Pictures.Contains(id);
    }

    private async Task<(PrintLook Look, double Visible)> LookAsync(Finish finish, string material, CancellationToken cancel)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var settings = await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel);
        var look = (await LookCoats.LoadAsync(context, time.GetUtcNow(), cancel)).Look(finish, settings.Material(material));
        return (look, (double)settings.Profile.VisibleDeltaE);
    }
}

using ShopFloor.Documents.Imaging;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Shared.Uploads;

namespace ShopFloor.Web.Bench.Photos;

/// <summary>
/// Takes a photo that was sent for a fault, an inspection or a test over from the incoming files. It comes through the one door for
/// pictures, and only the clean copy is kept: where a phone was when it took the photo is nobody's business.
/// </summary>
public sealed class TakePhoto(CommandRunner runner, IncomingFiles incoming, PictureFolder folder, PictureDoor door) : IUseCase
{
    private const int ScreenSide = 1600;

    /// <summary>Keeps it; the answer is the id under which an event names it.</summary>
    public async Task<Result<PictureId>> RunAsync(Asked asked, SentFile file, CancellationToken cancel = default)
    {
        var opened = incoming.Open(file.Id);
        if (!opened.IsOk)
            return Result<PictureId>.Refused(opened.Refusals);
        Result<AdmittedPicture> admitted;
        await using (opened.Value)
            admitted = await door.AdmitAsync(opened.Value, file.Name, cancel);
        if (!admitted.IsOk)
            return Result<PictureId>.Refused(admitted.Refusals);
        var clean = admitted.Value with { Original = admitted.Value.Clean };
        var screen = await door.CopyAsync(clean.Clean, new CopySpec(ScreenSide, CopyFormat.Webp, 84), cancel);
        if (!screen.IsOk)
            return Result<PictureId>.Refused(screen.Refusals);
        return await KeepAsync(asked, file, clean, screen.Value, cancel);
    }

    private async Task<Result<PictureId>> KeepAsync(
        Asked asked,
        SentFile file,
        AdmittedPicture photo,
        byte[] screen,
        CancellationToken cancel
    )
    {
        var id = new PictureId(Guid.CreateVersion7());
        await folder.SaveAsync(id, photo, screen, cancel);
        var result = await runner.RunAsync(
            nameof(TakePhoto),
            Allowed.Bench,
            asked,
            new { file.Id, photo.Sha256 },
            work =>
            {
                work.Context.Pictures.Add(
                    new KeptPicture(
                        id,
                        photo.Header.Format.ToString().ToLowerInvariant(),
                        photo.Header.WidthPx,
                        photo.Header.HeightPx,
                        photo.Clean.Length,
                        photo.Sha256,
                        file.Name.Length > 200 ? file.Name[..200] : file.Name,
                        work.Now
                    )
                );
                return Task.FromResult(Result<PictureId>.Ok(id));
            },
            cancel
        );
        if (result.IsOk)
            incoming.Drop(file.Id);
        if (!result.IsOk || result.Value != id)
            folder.Delete(id);
        return result;
    }
}

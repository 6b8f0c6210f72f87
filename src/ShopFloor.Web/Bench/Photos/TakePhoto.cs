using ShopFloor.Documents.Imaging;
using ShopFloor.Domain;
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
        var clean = admitted.Value;
        var screen = await door.CopyAsync(clean.Clean, new CopySpec(ScreenSide, CopyFormat.Webp, 84), cancel);
        if (!screen.IsOk)
            return Result<PictureId>.Refused(screen.Refusals);
        var photo = new NewPicture(folder, clean, file.Name);
        var kept = await photo.KeepAsync(screen.Value, Save, id => id, cancel);
        if (kept.IsOk)
            incoming.Drop(file.Id);
        return kept;
        Task<Result<PictureId>> Save() =>
            runner.RunAsync(
                nameof(TakePhoto),
                Allowed.Bench,
                asked,
                new { file.Id, clean.Sha256 },
                work => Task.FromResult(Put(work, photo)),
                cancel
            );
    }

    private static Result<PictureId> Put(CommandWork work, NewPicture photo)
    {
        work.Context.Pictures.Add(photo.Row(work.Now));
        return photo.Id;
    }
}

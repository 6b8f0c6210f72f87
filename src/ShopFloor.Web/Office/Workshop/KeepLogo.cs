using ShopFloor.Documents.Imaging;
using ShopFloor.Domain;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Shared.Uploads;

namespace ShopFloor.Web.Office.Workshop;

/// <summary>Takes a sent file as the logo of the workshop's letters, in place of an earlier one.</summary>
public sealed class KeepLogo(CommandRunner runner, IncomingFiles incoming, PictureFolder folder, PictureDoor door) : IUseCase
{
    /// <summary>Name of the field that takes the file.</summary>
    public const string Field = "logo";

    // 62 mm, the widest a logo stands on paper, at 600 dots an inch: more would only make each kept invoice larger.
    private const int PaperSide = 1500;
    private const int ScreenSide = 800;

    /// <summary>Keeps it; the answer names the kept picture.</summary>
    public async Task<Result<PictureId>> RunAsync(Asked asked, SentFile file, CancellationToken cancel = default)
    {
        var admitted = await AdmitAsync(file, cancel);
        if (!admitted.IsOk)
            return Result<PictureId>.Refused([.. admitted.Refusals.Select(r => r with { Field = Field })]);
        var screen = await door.CopyAsync(admitted.Value.Clean, new CopySpec(ScreenSide, CopyFormat.Webp, 88), cancel);
        if (!screen.IsOk)
            return Result<PictureId>.Refused(screen.Refusals);
        var logo = new NewPicture(folder, admitted.Value, file.Name);
        var kept = await logo.KeepAsync(screen.Value, Save, id => id, cancel);
        if (kept.IsOk)
            incoming.Drop(file.Id);
        return kept;
        Task<Result<PictureId>> Save() =>
            runner.RunAsync(
                nameof(KeepLogo),
                Allowed.Owner,
                asked,
                new { file.Id, admitted.Value.Sha256 },
                work => PutAsync(work, logo, cancel),
                cancel
            );
    }

    private static async Task<Result<PictureId>> PutAsync(CommandWork work, NewPicture logo, CancellationToken cancel)
    {
        logo.Before = await LogoChange.PutAsync(work, logo.Row(work.Now), cancel);
        return logo.Id;
    }

    /// <summary>Size and kind are judged by the head of the file, before any pixel is decoded.</summary>
    private async Task<Result<AdmittedPicture>> AdmitAsync(SentFile file, CancellationToken cancel)
    {
        var opened = incoming.Open(file.Id);
        if (!opened.IsOk)
            return Result<AdmittedPicture>.Refused(opened.Refusals);
        await using var stream = opened.Value;
        if (stream.Length > WorkshopLogo.MostBytes)
            return new Refusal("logo-bytes", $"A logo has at most {WorkshopLogo.MostBytes / 1_000_000} MB. Save it smaller.");
        var bytes = new byte[stream.Length];
        await stream.ReadExactlyAsync(bytes, cancel);
        var head = door.Head(bytes);
        if (!head.IsOk)
            return Result<AdmittedPicture>.Refused(head.Refusals);
        if (head.Value.Format == PictureFormat.Heic)
            return new Refusal("logo-kind", "A logo is a PNG, JPEG or WebP picture. Save it as one of these.");
        if (head.Value.Pixels > WorkshopLogo.MostPixels)
            return new Refusal(
                "logo-pixels",
                $"This picture has {head.Value.WidthPx} × {head.Value.HeightPx} pixels; a logo has at most {WorkshopLogo.MostPixels / 1_000_000} million. Save it smaller."
            );
        var admitted = await door.AdmitAsync(bytes, file.Name, cancel);
        return admitted.IsOk ? await OnPaperAsync(admitted.Value, cancel) : admitted;
    }

    private async Task<Result<AdmittedPicture>> OnPaperAsync(AdmittedPicture picture, CancellationToken cancel)
    {
        if (Math.Max(picture.CleanHeader.WidthPx, picture.CleanHeader.HeightPx) <= PaperSide)
            return picture;
        var smaller = await door.CopyAsync(picture.Clean, new CopySpec(PaperSide, CopyFormat.Png), cancel);
        return smaller.Then(png => door.Head(png).Then<AdmittedPicture>(head => picture with { Clean = png, CleanHeader = head }));
    }
}

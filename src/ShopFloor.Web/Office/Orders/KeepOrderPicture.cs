using ShopFloor.Documents.Imaging;
using ShopFloor.Domain;
using ShopFloor.Web.Api;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Shared.Uploads;

namespace ShopFloor.Web.Office.Orders;

/// <summary>A picture that the customer brought after booking.</summary>
/// <param name="Order">The order's number.</param>
/// <param name="Line">The line's number.</param>
/// <param name="File">The file that was sent.</param>
/// <param name="RightsAccepted">The customer says that the picture may be used.</param>
public sealed record BroughtPicture(int Order, int Line, SentFile File, bool RightsAccepted);

/// <summary>Puts a picture that came after booking on its line; on an own piece it then waits for approval.</summary>
public sealed class KeepOrderPicture(PutPicture put, IncomingFiles incoming, PictureDoor door) : IUseCase
{
    /// <summary>Name of the field that takes the file.</summary>
    public static string Field(int line) => string.Create(CultureInfo.InvariantCulture, $"picture-{line}");

    /// <summary>Keeps it; the answer names the kept picture.</summary>
    public async Task<Result<PictureId>> RunAsync(Asked asked, BroughtPicture brought, CancellationToken cancel = default)
    {
        var field = Field(brought.Line);
        if (!brought.RightsAccepted)
            return new Refusal("rights-open", "Tick first that the customer says the picture may be used.", field);
        var admitted = await AdmitAsync(brought.File, cancel);
        if (!admitted.IsOk)
            return Result<PictureId>.Refused([.. admitted.Refusals.Select(r => r with { Field = field })]);
        var place = new PicturePlace(brought.Order, brought.Line, "*", RightsAccepted: true) { Name = brought.File.Name };
        var kept = await put.RunAsync(asked, place, admitted.Value, cancel);
        if (kept.IsOk)
            incoming.Drop(brought.File.Id);
        return kept;
    }

    private async Task<Result<AdmittedPicture>> AdmitAsync(SentFile file, CancellationToken cancel)
    {
        var opened = incoming.Open(file.Id);
        if (!opened.IsOk)
            return Result<AdmittedPicture>.Refused(opened.Refusals);
        await using var stream = opened.Value;
        return await door.AdmitAsync(stream, file.Name, cancel);
    }
}

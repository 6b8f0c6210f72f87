using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Http.Features;
using ShopFloor.Documents.Imaging;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Shared;

namespace ShopFloor.Web.Counter.Pictures;

/// <summary>Takes one upload from the request to the draft.</summary>
public sealed class Uploads(IAntiforgery antiforgery, PictureDoor door, TakePicture take, Spoken spoken) : IErrand
{
    /// <summary>Name of the file in the form.</summary>
    public const string FileField = "picture";

    private const string CommandHeader = "X-Upload";
    private const long RoomForForm = 64 * 1024;

    /// <summary>The sender's id of this upload; a fresh one when it made none.</summary>
    public static Guid CommandOf(HttpContext http) =>
        Guid.TryParse(http.Request.Headers[CommandHeader], out var id) ? id : Guid.CreateVersion7();

    /// <summary>Checks size and sender before it reads, then looks at the picture and keeps it.</summary>
    public async Task<IResult> RunAsync(HttpContext http, Asked asked, UploadTarget target)
    {
        var cancel = http.RequestAborted;
        var most = door.Limits.MaxBytes + RoomForForm;
        if (http.Request.ContentLength > most)
            return Refused(http, TooLarge());
        if (await take.RefuseAsync(asked, target, cancel) is { } no)
            return Refused(http, no);
        var read = await ReadAsync(http, most);
        if (!read.IsOk)
            return Refused(http, read.Refusals[0]);
        await using var stream = read.Value.OpenReadStream();
        var admitted = await door.AdmitAsync(stream, read.Value.FileName, cancel);
        if (!admitted.IsOk)
            return Refused(http, admitted.Refusals[0]);
        var kept = await take.RunAsync(asked, target, admitted.Value, Path.GetFileName(read.Value.FileName), cancel);
        if (!kept.IsOk)
            return Refused(http, kept.Refusals[0]);
        return IsScript(http)
            ? Results.Json(new { name = kept.Value.Picture.Name, notes = kept.Value.Notes.Select(n => spoken[n]) })
            : Results.LocalRedirect($"~{PageOf(http)}?sent=true");
    }

    /// <summary>The answer for a picture that is not taken.</summary>
    public IResult Refused(HttpContext http, Refusal refusal)
    {
        if (!IsScript(http))
            return Results.LocalRedirect($"~{PageOf(http)}?fault={Uri.EscapeDataString(refusal.Code)}");
        var status = refusal.Code == TooLargeCode ? StatusCodes.Status413PayloadTooLarge : StatusCodes.Status422UnprocessableEntity;
        return Results.Json(new { code = refusal.Code, text = spoken[refusal.Text] }, statusCode: status);
    }

    private const string TooLargeCode = "picture-too-large";

    private async Task<Result<IFormFile>> ReadAsync(HttpContext http, long most)
    {
        if (http.Features.Get<IHttpMaxRequestBodySizeFeature>() is { IsReadOnly: false } size)
            size.MaxRequestBodySize = most;
        if (!http.Request.HasFormContentType)
            return Missing;
        try
        {
            var form = await http.Request.ReadFormAsync(new FormOptions { MultipartBodyLengthLimit = most }, http.RequestAborted);
            if (!await antiforgery.IsRequestValidAsync(http))
                return new Refusal("form-old", "This page is too old. Load it again, then send the picture once more.");
            return form.Files.GetFile(FileField) is { } file ? Result<IFormFile>.Ok(file) : Missing;
        }
        catch (BadHttpRequestException e) when (e.StatusCode == StatusCodes.Status413PayloadTooLarge)
        {
            return TooLarge();
        }
        catch (Exception e) when (e is InvalidDataException or IOException or BadHttpRequestException)
        {
            return new Refusal("upload-broken", "The picture did not arrive whole. Please send it again.");
        }
    }

    private static Refusal Missing => new("picture-missing", "Please choose a picture first.");

    private Refusal TooLarge() =>
        new(
            TooLargeCode,
            $"The file is larger than {door.Limits.MaxBytes / 1024 / 1024} MB. Please save the picture smaller or choose another."
        );

    /// <summary>The page whose form this was: the address without its last part.</summary>
    private static string PageOf(HttpContext http) => http.Request.Path.Value![..http.Request.Path.Value!.LastIndexOf('/')];

    private static bool IsScript(HttpContext http) => http.Request.Headers.ContainsKey(CommandHeader);
}

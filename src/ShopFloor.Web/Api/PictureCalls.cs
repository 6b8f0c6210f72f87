using Microsoft.AspNetCore.Http.Features;
using ShopFloor.Documents.Imaging;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Api;

/// <summary>What was kept of a sent picture.</summary>
/// <param name="WidthPx">Pixels across, turned upright.</param>
/// <param name="HeightPx">Pixels down.</param>
/// <param name="Notes">Plain sentences that the customer should read.</param>
public sealed record PictureOut(int WidthPx, int HeightPx, IReadOnlyList<string> Notes);

/// <summary>Pictures in: the file itself is the body. It changes an order, so the caller names the order as it saw it.</summary>
public static class PictureCalls
{
    private static readonly string[] Kinds = ["image/jpeg", "image/png", "image/webp", "image/heic"];

    public static void MapPicturesIn(this IEndpointRouteBuilder api) =>
        api.MapPut("/orders/{number:int}/lines/{line:int}/picture", PutAsync)
            .Accepts<Stream>(Kinds[0], Kinds[1..])
            .Produces<PictureOut>()
            .ProducesProblem(404)
            .ProducesProblem(409)
            .ProducesProblem(412)
            .ProducesProblem(413)
            .ProducesProblem(422)
            .ProducesProblem(428)
            .WithName("picture")
            .WithSummary(
                "Puts a picture on a line, in place of an earlier one, until it is printed. Needs the header If-Match with the order's ETag, or *, and rightsAccepted=true."
            )
            .RequireAuthorization(ApiScopes.Policy(ApiScopes.OrdersIn));

    private static async Task<IResult> PutAsync(
        int number,
        int line,
        HttpContext http,
        PictureDoor door,
        PutPicture put,
        OrderStatusView view,
        bool rightsAccepted = false
    )
    {
        if (http.Request.Headers.IfMatch.ToString().Trim('"', ' ') is not { Length: > 0 } tag)
            return Problems.One(428, "if-match", "Send a header If-Match with the ETag of the order as you read it, or *.");
        if (http.Features.Get<IHttpMaxRequestBodySizeFeature>() is { IsReadOnly: false } size)
            size.MaxRequestBodySize = door.Limits.MaxBytes + 1;
        if (http.Request.ContentLength > door.Limits.MaxBytes)
            return Problems.One(413, "picture-too-large", $"A picture has at most {door.Limits.MaxBytes / 1024 / 1024} MB.");
        var admitted = await door.AdmitAsync(http.Request.Body, fileName: null, http.RequestAborted);
        if (!admitted.IsOk)
            return Refused(admitted.Refusals);
        var place = new PicturePlace(number, line, tag, rightsAccepted);
        var done = await put.RunAsync(
            Asked.ByKey(ApiScopes.KeyOf(http.User), Guid.CreateVersion7()),
            place,
            admitted.Value,
            http.RequestAborted
        );
        if (!done.IsOk)
            return Refused(done.Refusals);
        if (await view.OneAsync(number, http.RequestAborted) is { } now)
            http.Response.Headers.ETag = $"\"{now.Tag}\"";
        var header = admitted.Value.Header;
        return Results.Json(new PictureOut(header.WidthPx, header.HeightPx, admitted.Value.Notes), ApiBody.Form);
    }

    private static IResult Refused(IReadOnlyList<Refusal> refusals) =>
        refusals[0].Code switch
        {
            "not-found" or "line-missing" => Problems.One(404, refusals[0].Code, refusals[0].Text),
            "changed-meanwhile" => Problems.One(412, refusals[0].Code, refusals[0].Text),
            "picture-too-large" => Problems.One(413, refusals[0].Code, refusals[0].Text),
            _ => Problems.Of(refusals),
        };
}

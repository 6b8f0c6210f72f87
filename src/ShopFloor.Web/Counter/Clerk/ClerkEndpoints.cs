using ShopFloor.Domain;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Counter.Clerk;

/// <summary>Pictures of booked orders, for who works here: an order is known again by its picture.</summary>
public static class ClerkEndpoints
{
    private const int Side = 320;
    private const int LargeSide = 1200;

    public static void MapClerk(this IEndpointRouteBuilder app) =>
        app.MapGet("/clerk/orders/{order:guid}/picture/{line:int}", PictureAsync).RequireAuthorization(Policies.Bench);

    /// <summary>Where the picture of a line is fetched.</summary>
    public static string Address(OrderId order, int line) =>
        string.Create(CultureInfo.InvariantCulture, $"clerk/orders/{order.Value:D}/picture/{line}");

    /// <summary>The same, large enough to lay it. The picture is part of the address: another may have taken its place.</summary>
    public static string Address(OrderId order, int line, PictureId picture) => $"{Address(order, line)}?large={picture.Value:N}";

    private static async Task<IResult> PictureAsync(
        Guid order,
        int line,
        string? large,
        HttpContext http,
        ClerkView view,
        PictureViews pictures
    )
    {
        var found = await view.LookAsync(new OrderId(order), line, http.RequestAborted);
        if (found is not { Picture: { } picture } || !pictures.Has(picture))
            return Results.NotFound();
        var made = await pictures.MakeAsync(
            picture,
            found.Finish,
            found.Piece.Material,
            large is null ? Side : LargeSide,
            http.RequestAborted
        );
        http.Response.Headers.CacheControl = "private, max-age=3600";
        return made.IsOk ? Results.Bytes(made.Value, "image/webp") : Results.NotFound();
    }
}

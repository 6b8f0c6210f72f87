using System.Net;
using System.Net.Http.Headers;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Api;
using ShopFloor.Web.Counter.Pictures;
using SkiaSharp;

namespace ShopFloor.Web.Tests.Api;

/// <summary>Pictures by the API: on the order as the caller saw it, and on no other.</summary>
public sealed class PictureCallTests(ApiShop shop) : IClassFixture<ApiShop>
{
    [Fact]
    public async Task Put_WithTheTagThatWasRead_IsKeptAndTheSecondWithTheOldTagIsRefused()
    {
        var number = await OpenOrderAsync();
        await WithTestPieceAsync(number);
        using var caller = await shop.CallerAsync(ApiScopes.OrdersIn, ApiScopes.StatusOut);
        using var read = await caller.GetAsync($"/api/v1/orders/{number}");
        var tag = read.Headers.ETag!;

        using var first = await PutAsync(caller, number, 1, tag.Tag, Png(60, 40));
        using var second = await PutAsync(caller, number, 1, tag.Tag, Png(30, 20));
        using var third = await PutAsync(caller, number, 1, first.Headers.ETag!.Tag, Png(90, 60));

        Assert.Equal([200, 412, 200], new[] { first, second, third }.Select(a => (int)a.StatusCode));
        Assert.NotEqual(tag.Tag, first.Headers.ETag!.Tag);
        await using var context = await shop.ContextAsync();
        var order = await context.Orders.AsNoTracking().SingleAsync(o => o.Number == number);
        var kept = await context.Pictures.SingleAsync(p => p.Id == order.Lines[0].Picture);
        Assert.Equal((90, 60), (kept.WidthPixels, kept.HeightPixels));
        Assert.Equal(ProofState.Waiting, order.Proof);
        Assert.Single(order.Agreements, a => a.What == "picture rights");
        Assert.True(shop.Host.Services.GetRequiredService<PictureFolder>().Has(kept.Id));
    }

    [Fact]
    public async Task Put_WhatIsWrong_IsAProblemOfItsOwn()
    {
        var number = await OpenOrderAsync();
        using var caller = await shop.CallerAsync(ApiScopes.OrdersIn);
        using var reader = await shop.CallerAsync(ApiScopes.StatusOut);
        (HttpClient Who, string? Tag, string Path, byte[] Body, int Status, string Code)[] wrong =
        [
            (reader, "*", $"{number}/lines/1", Png(60, 40), 403, "no-scope"),
            (caller, null, $"{number}/lines/1", Png(60, 40), 428, "if-match"),
            (caller, "*", "999999/lines/1", Png(60, 40), 404, "not-found"),
            (caller, "*", $"{number}/lines/9", Png(60, 40), 404, "line-missing"),
            (caller, "*", $"{number}/lines/1", "GIF89a"u8.ToArray(), 422, "picture-kind"),
            (caller, "*", $"{number}/lines/1", Png(60, 40)[..50], 422, "picture-broken"),
        ];
        foreach (var (who, tag, path, body, status, code) in wrong)
        {
            using var answer = await PutAsync(who, path, tag, body);
            var text = await answer.Content.ReadAsStringAsync();
            Assert.True((int)answer.StatusCode == status, $"{path}: {answer.StatusCode} {text}");
            Assert.Equal(code, JsonDocument.Parse(text).RootElement.GetProperty("title").GetString());
        }
        using var noRights = await PutAsync(caller, $"{number}/lines/1", "*", Png(60, 40), rights: false);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, noRights.StatusCode);
    }

    private async Task WithTestPieceAsync(int number)
    {
        await using var context = await shop.ContextAsync();
        var order = await context.Orders.SingleAsync(o => o.Number == number);
        var piece = new Piece(new PieceId(Guid.CreateVersion7()));
        piece.Apply(new PieceBooked(order.BookedAt, "TESTED", order.Id, order.Lines[0].Id, 99, false, null, [], IsTest: true));
        context.Pieces.Add(piece);
        await context.SaveChangesAsync();
    }

    private async Task<int> OpenOrderAsync()
    {
        await using var context = await shop.ContextAsync();
        var orders = await context.Orders.AsNoTracking().Where(o => o.PrintedAt == null && o.CancelledAt == null).ToListAsync();
        return orders.OrderBy(o => o.Number).First(o => o.Lines[0].Piece.IsOwn).Number;
    }

    private static Task<HttpResponseMessage> PutAsync(HttpClient caller, int order, int line, string tag, byte[] body) =>
        PutAsync(caller, $"{order}/lines/{line}", tag, body);

    private static async Task<HttpResponseMessage> PutAsync(HttpClient caller, string place, string? tag, byte[] body, bool rights = true)
    {
        using var request = new HttpRequestMessage(
            HttpMethod.Put,
            $"/api/v1/orders/{place}/picture{(rights ? "?rightsAccepted=true" : "")}"
        );
        request.Content = new ByteArrayContent(body);
        request.Content.Headers.ContentType = new MediaTypeHeaderValue("image/png");
        if (tag is not null)
            request.Headers.TryAddWithoutValidation("If-Match", tag);
        return await caller.SendAsync(request);
    }

    private static byte[] Png(int width, int height)
    {
        using var bitmap = new SKBitmap(width, height);
        bitmap.Erase(SKColors.SeaGreen);
        using var png = bitmap.Encode(SKEncodedImageFormat.Png, 100);
        return png.ToArray();
    }
}

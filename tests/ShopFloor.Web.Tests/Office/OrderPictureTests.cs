using Bunit;
using Microsoft.AspNetCore.Components.Forms;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Documents.Imaging;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Quantities;
using ShopFloor.Web.Api;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Counter.Clerk;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Office.Today;
using ShopFloor.Web.Shared;
using ShopFloor.Web.Shared.Uploads;
using ShopFloor.Web.Tests.Bench;
using ShopFloor.Web.Tests.Support;
using SkiaSharp;

namespace ShopFloor.Web.Tests.Office;

/// <summary>A picture that comes after booking: it is missed, and it can be given in on the order's page.</summary>
public sealed class OrderPictureTests
{
    /// <summary>A text alone was taken for all there is, and the picture that was promised with it was forgotten.</summary>
    [Fact]
    public async Task Picture_ToComeForALineWithAText_IsMissedToo()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var clerk = await shop.WorkerAsync(WorkerRole.Counter);
        var entry = new LineEntry { Text = "Moorlight", PictureLater = true };
        Assert.True(EntryReading.Line(entry, LengthUnit.Millimetre, 2).Placement.IsToCome);
        Assert.False(EntryReading.Line(entry with { PictureLater = false }, LengthUnit.Millimetre, 2).Placement.IsToCome);
        var order = ShopOrders.Plates(1);
        var line = order.Lines[0] with { Texts = ["Moorlight"] };
        var alone = await BookAsync(shop, clerk, order with { Lines = [line] });
        var toCome = await BookAsync(
            shop,
            clerk,
            order with
            {
                Lines = [line with { Placement = PictureOnFace.Whole with { IsToCome = true } }],
            }
        );

        Assert.Empty((await shop.Get<OrderDetailView>().LoadAsync(alone.Number))!.NoPicture);
        Assert.Equal([1], (await shop.Get<OrderDetailView>().LoadAsync(toCome.Number))!.NoPicture);
        Assert.Contains((await shop.Get<TodayView>().LoadAsync()).Proofs, p => p.Order == toCome.Number && p.IsMissing);
        Assert.True(toCome.PromisedAt > alone.PromisedAt);
    }

    /// <summary>The letters on an own piece are as final as a picture: the customer sees them first, and the promise allows for that.</summary>
    [Fact]
    public async Task Text_AloneOnAnOwnPiece_WaitsForApproval()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var clerk = await shop.WorkerAsync(WorkerRole.Counter);
        async Task<(BookedOrder Booked, ProofState Proof)> BookedAsync(bool own)
        {
            var order = ShopOrders.Plates(1, own);
            var booked = await BookAsync(shop, clerk, order with { Lines = [order.Lines[0] with { Texts = ["Moorlight"] }] });
            return (booked, (await shop.Get<OrderDetailView>().LoadAsync(booked.Number))!.Proof);
        }
        var (blank, mine) = (await BookedAsync(own: false), await BookedAsync(own: true));

        Assert.Equal((ProofState.NotNeeded, ProofState.Waiting), (blank.Proof, mine.Proof));
        Assert.True(mine.Booked.PromisedAt > blank.Booked.PromisedAt);
    }

    private static async Task<BookedOrder> BookAsync(TestShop shop, Guid clerk, OrderInput order)
    {
        var booked = await shop.Get<BookOrder>().RunAsync(Asked.By(clerk), await shop.ShownAsync(order));
        Assert.True(booked.IsOk, booked.Refusals.FirstOrDefault()?.Text);
        return booked.Value;
    }

    [Fact]
    public async Task Picture_BroughtLater_IsMissedUntilItIsGivenInAndThenWaitsForApproval()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 1, own: true, printed: false);
        var (shop, owner) = (bench.Shop, await bench.Shop.WorkerAsync(WorkerRole.Owner));
        var missing = Assert.Single((await shop.Get<TodayView>().LoadAsync()).Proofs);
        Assert.True(missing.IsMissing);
        Assert.Equal([1], (await shop.Get<OrderDetailView>().LoadAsync(missing.Order))!.NoPicture);
        var file = new SentFile(Guid.CreateVersion7(), "dog.png");
        using (var png = new MemoryStream(Png()))
            Assert.True((await shop.Get<IncomingFiles>().TakeAsync(file.Id, png, default)).IsOk);

        var without = await shop.Get<KeepOrderPicture>().RunAsync(Asked.By(owner), new BroughtPicture(missing.Order, 1, file, false));
        Assert.Equal(("rights-open", "picture-1"), (without.Refusals[0].Code, without.Refusals[0].Field));
        var kept = await shop.Get<KeepOrderPicture>().RunAsync(Asked.By(owner), new BroughtPicture(missing.Order, 1, file, true));

        Assert.True(kept.IsOk, kept.IsOk ? "" : kept.Refusals[0].Text);
        var order = (await shop.Get<OrderDetailView>().LoadAsync(missing.Order))!;
        Assert.Equal((kept.Value, ProofState.Waiting), (order.Lines[0].Picture!.Value, order.Proof));
        Assert.Empty(order.NoPicture);
        Assert.False(Assert.Single((await shop.Get<TodayView>().LoadAsync()).Proofs).IsMissing);
        await using var context = await shop.ContextAsync();
        Assert.Equal("dog.png", (await context.Pictures.SingleAsync(p => p.Id == kept.Value)).Name);
    }

    /// <summary>The customer wants it different, or it was the wrong file: another picture is given in where the first one is shown.</summary>
    [Fact]
    public async Task Picture_ThatShallBeAnother_IsGivenInUntilItIsPrinted()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 1, own: true, printed: false);
        var (shop, view) = (bench.Shop, bench.Shop.Get<OrderDetailView>());
        Assert.True((await PutAsync(shop)).IsOk);
        await WriteAsync(shop, o => Assert.True(o.JudgeProof(approved: false, "The other dog").IsOk));
        await using var page = TestPage.Plain();
        page.Services.AddSingleton<AntiforgeryStateProvider>(new NoToken());
        page.Services.AddSingleton(shop.Get<ProofView>());
        page.Services.AddSingleton(shop.Get<KeepOrderPicture>());
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var user = TestPage.Worker(owner);
        var proof = page.Render<OrderProof>(p => p.Add(o => o.Order, view.LoadAsync(1).Result!).AddCascadingValue(TestPage.Session(user)));
        proof.WaitForAssertion(() => Assert.NotEmpty(proof.FindAll("#picture-1")));
        var before = proof.Find("image").GetAttribute("href");
        var file = new SentFile(Guid.CreateVersion7(), "cat.png");
        using (var png = new MemoryStream(Png()))
            Assert.True((await shop.Get<IncomingFiles>().TakeAsync(file.Id, png, default)).IsOk);

        Assert.True(proof.Find("#picture-1").HasAttribute("disabled"));
        await proof.Find("#picture-rights").ChangeAsync(new() { Value = true });
        Assert.False(proof.Find("#picture-1").HasAttribute("disabled"));
        await proof.InvokeAsync(() => proof.FindComponent<UploadField>().Instance.OnSent.InvokeAsync(file));

        Assert.Equal(ProofState.Waiting, (await view.LoadAsync(1))!.Proof);
        var another = (await view.LoadAsync(1))!;
        proof.Render(p => p.Add(o => o.Order, another));
        proof.WaitForAssertion(() => Assert.NotEqual(before, proof.Find("image").GetAttribute("href")));
        await using (var context = await shop.ContextAsync())
            Assert.Equal("cat.png", (await context.Pictures.SingleAsync()).Name);
        await WriteAsync(shop, o => Assert.True(o.ApproveProof("").IsOk && o.Printed(shop.Clock.GetUtcNow()).IsOk));
        var printed = (await view.LoadAsync(1))!;
        proof.Render(p => p.Add(o => o.Order, printed));
        proof.WaitForAssertion(() => Assert.Empty(proof.FindAll("#picture-1")));
    }

    private sealed class NoToken : AntiforgeryStateProvider
    {
        public override AntiforgeryRequestToken? GetAntiforgeryToken() => null;
    }

    private static async Task WriteAsync(TestShop shop, Action<Order> change)
    {
        await using var context = await shop.ContextAsync();
        change(await context.Orders.SingleAsync());
        await context.SaveChangesAsync();
    }

    [Fact]
    public async Task Picture_WhenTheSaveFails_TheEarlierOneKeepsItsFiles()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 1, own: true, printed: false);
        var first = await PutAsync(bench.Shop);
        await bench.Shop.IgnoreAsync("UPDATE ON Orders");

        Assert.Equal("changed-meanwhile", (await PutAsync(bench.Shop)).Refusals[0].Code);

        Assert.True(bench.Shop.Get<PictureFolder>().Has(first.Value));
        Assert.Equal(2, Directory.GetFiles(Path.Combine(bench.Shop.Folder, "pictures")).Length);
    }

    [Fact]
    public async Task Picture_OfAnOrderThatIsBeingRepeated_StaysWhenAnotherTakesItsPlace()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 1, own: true, printed: false);
        var (first, files) = (await PutAsync(bench.Shop), bench.Shop.Get<PictureFolder>());
        var order = (await bench.PiecesAsync())[0].Order;
        Assert.True((await bench.Shop.Get<RepeatOrder>().RunAsync(await bench.Shop.WorkerAsync(WorkerRole.Owner), order)).IsOk);

        var second = await PutAsync(bench.Shop);
        var third = await PutAsync(bench.Shop);

        Assert.Equal([true, false, true], new[] { first, second, third }.Select(p => files.Has(p.Value)));
    }

    private static async Task<Result<PictureId>> PutAsync(TestShop shop)
    {
        var picture = (await shop.Get<PictureDoor>().AdmitAsync(Png(), "dog.png", default)).Value;
        var place = new PicturePlace(1, 1, "*", RightsAccepted: true);
        return await shop.Get<PutPicture>().RunAsync(Asked.By(await shop.WorkerAsync(WorkerRole.Owner)), place, picture);
    }

    private static byte[] Png()
    {
        using var bitmap = new SKBitmap(60, 40);
        bitmap.Erase(SKColors.Teal);
        return bitmap.Encode(SKEncodedImageFormat.Png, 100).ToArray();
    }
}

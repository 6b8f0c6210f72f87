using System.IO.Compression;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data.Records;
using ShopFloor.Web.Office.Exchange;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Office.Workshop;
using ShopFloor.Web.Tests.Office.Invoices;

namespace ShopFloor.Web.Tests.Office.Exchange;

/// <summary>Who takes everything out, over a slow line too, holds nobody up at the Bench.</summary>
public sealed class EverythingOutTests
{
    [Fact]
    public async Task Write_WhileItGoesOn_LetsOthersSave()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var profile = (await shop.Shop.Get<SettingsView>().LoadAsync()).Profile;
        shop.Shop.Clock.Advance(TimeSpan.FromSeconds(1));
        bool? saved = null;
        await using var slow = new SlowStream(async () =>
            saved = (await shop.Shop.Get<ChangeProfile>().RunAsync(shop.Asked(), profile with { City = "Torfheim" })).IsOk
        );
        await shop.Shop.Get<EverythingOut>().WriteAsync(slow, default);
        Assert.True(saved);
        Assert.Equal("Torfheim", (await shop.Shop.Get<SettingsView>().LoadAsync()).Profile.City);
    }

    [Fact]
    public async Task Write_WhileAnotherIsWritten_WritesNothingAndLaterItDoes()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        await using var second = new MemoryStream();
        bool? done = null;
        await using var slow = new SlowStream(async () => done = await shop.Shop.Get<EverythingOut>().WriteAsync(second, default));
        Assert.True(await shop.Shop.Get<EverythingOut>().WriteAsync(slow, default));
        Assert.Equal((false, 0), (done, second.Length));
        Assert.True(await shop.Shop.Get<EverythingOut>().WriteAsync(second, default));
    }

    /// <summary>CSV and JSON of a table are whole, and of the plans only the last few are in it.</summary>
    [Fact]
    public async Task Write_ManyPlans_TakesTheLastFiveInBothForms()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        await using (var context = await shop.Shop.ContextAsync())
        {
            await context.Plans.ExecuteDeleteAsync();
            var now = shop.Shop.Clock.GetUtcNow();
            for (var number = 1; number <= 12; number++)
                context.Plans.Add(new PlanVersion(number, now, now, 0, "{}", "{}", "for trial"));
            await context.SaveChangesAsync();
        }
        await using var file = new MemoryStream();
        Assert.True(await shop.Shop.Get<EverythingOut>().WriteAsync(file, default));
        file.Position = 0;
        await using var zip = new ZipArchive(file);
        using var json = await JsonDocument.ParseAsync(await zip.GetEntry("tables/Plans.json")!.OpenAsync());
        Assert.Equal([8, 9, 10, 11, 12], json.RootElement.EnumerateArray().Select(p => p.GetProperty("Number").GetInt32()).Order());
        using var csv = new StreamReader(await zip.GetEntry("tables/Plans.csv")!.OpenAsync());
        Assert.Equal(6, (await csv.ReadToEndAsync()).TrimEnd().Split("\r\n").Length);
        using var orders = await JsonDocument.ParseAsync(await zip.GetEntry("tables/Orders.json")!.OpenAsync());
        await using var after = await shop.Shop.ContextAsync();
        Assert.Equal(await after.Orders.CountAsync(), orders.RootElement.GetArrayLength());
    }

    /// <summary>Something happens in the shop before the first bytes are taken.</summary>
    private sealed class SlowStream(Func<Task> meanwhile) : MemoryStream
    {
        private bool begun;

        public override async ValueTask WriteAsync(ReadOnlyMemory<byte> buffer, CancellationToken cancellationToken = default)
        {
            if (!begun)
            {
                begun = true;
                await meanwhile();
            }
            await base.WriteAsync(buffer, cancellationToken);
        }

        public override Task WriteAsync(byte[] buffer, int offset, int count, CancellationToken cancellationToken) =>
            WriteAsync(buffer.AsMemory(offset, count), cancellationToken).AsTask();
    }
}

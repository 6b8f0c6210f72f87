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

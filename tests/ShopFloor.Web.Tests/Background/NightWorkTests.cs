using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Office.Duties;
using ShopFloor.Web.Office.Prices;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Background;

/// <summary>What the program does by itself keeps nobody at the Bench waiting.</summary>
public sealed class NightWorkTests
{
    [Fact]
    public async Task Measure_AllNightLong_IsDoneOnceANight()
    {
        await using var shop = await TestShop.EmptyAsync();
        var zone = (await shop.Get<SettingsView>().LoadAsync()).Zone;
        var nightly = shop.Get<MeasureNightly>();
        async Task<int> AtAsync(int day, int hour, int minute)
        {
            shop.Clock.SetUtcNow(DayTimes.Utc(new DateOnly(2026, 3, day), new TimeOnly(hour, minute), zone));
            await nightly.RunAsync(default);
            await using var context = await shop.ContextAsync();
            return await context.Commands.CountAsync(c => c.Name == nameof(MeasureShop));
        }

        Assert.Equal(1, await AtAsync(10, 0, 5));
        Assert.Equal(1, await AtAsync(10, 0, 15));
        Assert.Equal(1, await AtAsync(10, 4, 55));
        Assert.Equal(1, await AtAsync(10, 14, 0));
        Assert.Equal(2, await AtAsync(11, 0, 5));
    }

    [Fact]
    public async Task Clear_NothingOverItsTime_IsFoundOutWithoutTheWriteGate()
    {
        await using var shop = await TestShop.EmptyAsync();
        using var taken = await shop.Get<WriteGate>().EnterAsync(default);
        var done = await shop.Get<ClearOldData>().RunAsync().WaitAsync(TimeSpan.FromMinutes(1));
        Assert.Equal("nothing-due", Assert.Single(done.Refusals).Code);
    }
}

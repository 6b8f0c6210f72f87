using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Office.Duties;
using ShopFloor.Web.Office.Prices;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Tests.Bench;
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

    /// <summary>What is over its time is found while others write; in their way it is only looked at again, and what lives again stays.</summary>
    [Fact]
    public async Task Clear_OldAnswersToCommands_AreLookedForOutsideTheWriteGate()
    {
        await using var shop = await TestShop.EmptyAsync();
        var draft = await OldAsync(shop, answers: 30);
        await using var context = await shop.ContextAsync();
        Task<Result<int>> clearing;
        using (await shop.Get<WriteGate>().EnterAsync(default))
        {
            shop.Reads.Clear();
            clearing = shop.Get<ClearOldData>().RunAsync();
            Assert.Equal(1, shop.Reads.Asked("FROM \"Pictures\""));
            Assert.Equal(30, shop.Reads.Rows("FROM \"Commands\""));
            // Meanwhile somebody goes on with the entry.
            var now = shop.Clock.GetUtcNow();
            await context.Drafts.Where(d => d.Id == draft).ExecuteUpdateAsync(d => d.SetProperty(x => x.ChangedAt, now));
            shop.Reads.Clear();
        }
        Assert.Equal(30, (await clearing.WaitAsync(TimeSpan.FromMinutes(1))).Value);

        Assert.Empty(await shop.Reads.ScansAsync(context, "Commands"));
        Assert.Equal(0, shop.Reads.Asked("FROM \"Journal\""));
        Assert.True(await context.Drafts.AnyAsync(d => d.Id == draft));
        Assert.Equal(nameof(ClearOldData), (await context.Commands.AsNoTracking().SingleAsync()).Name);
    }

    [Fact]
    public async Task Clear_AllNightLong_LooksThroughTheShopOnceANight()
    {
        await using var shop = await TestShop.EmptyAsync();
        var zone = (await shop.Get<SettingsView>().LoadAsync()).Zone;
        var nightly = new ClearNightly(shop.Get<IDbContextFactory<ShopContext>>(), shop.Clock);
        async Task<int> AtAsync(int day, int hour, int minute)
        {
            shop.Clock.SetUtcNow(DayTimes.Utc(new DateOnly(2026, 3, day), new TimeOnly(hour, minute), zone));
            shop.Reads.Clear();
            await nightly.RunAsync(shop.Get<ClearOldData>());
            return shop.Reads.Asked("FROM \"Commands\"", "ORDER BY");
        }

        Assert.Equal(1, await AtAsync(9, 9, 0));
        Assert.Equal(0, await AtAsync(9, 9, 10));
        Assert.Equal(1, await AtAsync(10, 0, 5));
        Assert.Equal(0, await AtAsync(10, 0, 15));
        Assert.Equal(0, await AtAsync(10, 4, 55));
        Assert.Equal(0, await AtAsync(10, 14, 0));
        await OldAsync(shop, answers: 3);
        // Looked for, and once more whether there is more.
        Assert.Equal(2, await AtAsync(11, 0, 5));
        Assert.Equal(0, await AtAsync(11, 0, 15));
    }

    /// <summary>A journal only grows: what was gone through once is not gone through again.</summary>
    [Fact]
    public async Task Clear_PicturesThatNothingNames_ReadsOnlyWhatIsNewInTheJournals()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 1);
        var shop = bench.Shop;
        async Task<int> ClearAsync()
        {
            await using (var context = await shop.ContextAsync())
            {
                context.Pictures.Add(Picture(shop.Clock.GetUtcNow().AddDays(-30)));
                await context.SaveChangesAsync();
            }
            shop.Reads.Clear();
            Assert.Equal(1, (await shop.Get<ClearOldData>().RunAsync()).Value);
            return shop.Reads.Asked("FROM \"Journal\"", "LIKE", "\"Sequence\" >");
        }
        Assert.Equal(2, await ClearAsync());
        Assert.Equal(2, await ClearAsync());
        Assert.Equal(0, shop.Reads.Rows("FROM \"Journal\"", "LIKE"));
        await using var look = await shop.ContextAsync();
        Assert.Equal(0, await look.Pictures.CountAsync());
    }

    private static KeptPicture Picture(DateTimeOffset at) => new(new PictureId(Guid.CreateVersion7()), "png", 1, 1, 1, "", "", at);

    /// <summary>Answers to commands of long ago, and an entry that nobody went on with.</summary>
    private static async Task<Guid> OldAsync(TestShop shop, int answers)
    {
        var at = shop.Clock.GetUtcNow().AddDays(-100);
        await using var context = await shop.ContextAsync();
        for (var i = 0; i < answers; i++)
            context.Commands.Add(new CommandRecord(Guid.CreateVersion7(), "Test", "", "{}", at.AddMinutes(i), "owner"));
        var draft = new Draft(Guid.CreateVersion7(), "order", "x", at);
        context.Drafts.Add(draft);
        await context.SaveChangesAsync();
        return draft.Id;
    }
}

using Bunit;
using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Web.Counter.Secrets;
using ShopFloor.Web.Office.Duties;
using ShopFloor.Web.Shared.Controls;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Background;

/// <summary>A clock that is put back while the program runs keeps nothing waiting.</summary>
public sealed class PutBackClockTests
{
    private readonly SteppedClock clock = new(new DateTimeOffset(2026, 3, 4, 9, 0, 0, TimeSpan.Zero));

    [Fact]
    public async Task Form_PressedAfterTheClockWentBack_DoesItAgain()
    {
        await using var page = new BunitContext();
        page.Services.AddLocalization();
        page.Services.AddSingleton<TimeProvider>(clock);
        var done = 0;
        var form = page.Render<ActForm>(p => p.Add(f => f.OnSubmit, () => done++));
        await form.Find("form").SubmitAsync();
        clock.Step(ActForm.Second, TimeSpan.FromHours(-1));
        await form.Find("form").SubmitAsync();
        Assert.Equal(2, done);
    }

    [Fact]
    public void Misses_ClockWentBack_WaitIsOverAfterItsTime()
    {
        var misses = new Misses(clock, most: 2);
        var http = new DefaultHttpContext();
        misses.Note(http);
        misses.Note(http);
        clock.Step(TimeSpan.FromSeconds(20), TimeSpan.FromHours(-1));
        Assert.Equal(TimeSpan.FromSeconds(40), misses.WaitOf(http));
        clock.Step(TimeSpan.FromSeconds(40), TimeSpan.Zero);
        Assert.Null(misses.WaitOf(http));
        Assert.False(misses.Note(http));
    }

    [Fact]
    public async Task Clear_ClockWentBack_IsDoneTheNextNightAllTheSame()
    {
        await using var shop = await TestShop.EmptyAsync();
        var nightly = new ClearNightly(shop.Get<IDbContextFactory<ShopContext>>(), clock);
        async Task<int> AfterAsync(int hours, int hands)
        {
            clock.Step(TimeSpan.FromHours(hours), TimeSpan.FromHours(hands));
            shop.Reads.Clear();
            await nightly.RunAsync(shop.Get<ClearOldData>());
            return shop.Reads.Asked("FROM \"Commands\"", "ORDER BY");
        }
        Assert.Equal(1, await AfterAsync(0, 0));
        Assert.Equal(0, await AfterAsync(1, -30));
        Assert.Equal(1, await AfterAsync(25, 25));
    }
}

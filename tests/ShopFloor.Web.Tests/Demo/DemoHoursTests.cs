using Microsoft.EntityFrameworkCore;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Demo;

/// <summary>Whenever the demo is started, its first plan is one that a workshop could have: all is planned and little is late.</summary>
public sealed class DemoHoursTests
{
    [Theory]
    [InlineData(3)]
    [InlineData(18)]
    [InlineData(16)]
    [InlineData(23)]
    public async Task FirstPlan_DemoStartedAtAnyHour_LeavesNothingOutAndHasFewLatePieces(int hour)
    {
        await using var shop = await TestShop.EmptyAsync();
        var zone = TimeZoneInfo.FindSystemTimeZoneById("Europe/Berlin");
        var day = DateOnly.FromDateTime(shop.Clock.GetUtcNow().UtcDateTime).AddDays(1);
        shop.Clock.SetUtcNow(DayTimes.Utc(day, new TimeOnly(hour, 40), zone));
        await shop.Get<ShopFloor.Web.Background.Demo.DemoWorkshop>().RunAsync();
        await using var context = await shop.ContextAsync();
        var snapshot = await ShopSnapshot.ReadAsync(context, shop.Clock.GetUtcNow(), CancellationToken.None);
        var made = DayFromShop.Make(snapshot);
        var plan = DayPlanner.First(made);
        var ends = PlanEnds.Of(plan);
        var late = made
            .Pieces.Where(p => ends.TryGetValue(p.Id, out var end) && end > p.PromiseS)
            .Select(p => $"{p.Order} {p.Id} {ends[p.Id] - p.PromiseS}")
            .ToList();
        Assert.NotEmpty(made.Running.Tasks);
        Assert.Contains(made.People, p => p.Shifts.Any(s => s.FromS == 0));
        Assert.Empty(plan.LeftOut.Select(l => $"{l.Piece}: {l.Reason}: {l.Text}"));
        Assert.True(late.Count <= 2, string.Join("; ", late));
    }
}

using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Planning.Checking;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Plans;
using ShopFloor.Web.Tests.Support;
using Piece = ShopFloor.Domain.Pieces.Piece;
using StepKind = ShopFloor.Domain.Recipes.StepKind;

namespace ShopFloor.Web.Tests.Plans;

/// <summary>The owner's pins: what is refused, what the planner makes of them, and what the Office says of them.</summary>
public sealed class PinPieceTests
{
    private static async Task<(TestShop Shop, Guid Owner, Piece Piece, int Step)> StartAsync()
    {
        var shop = await ShopOrders.DemoAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        await using var context = await shop.ContextAsync();
        await context.Pins.ExecuteDeleteAsync();
        var pieces = await context.Pieces.Where(p => p.State == PieceState.Received).OrderBy(p => p.Code).ToListAsync();
        var piece = pieces.First(p => p.Items.Any(i => i.Kind == StepKind.Cure));
        return (shop, owner, piece, piece.Items.First(i => i.Kind == StepKind.Cure).Number);
    }

    private static async Task<(Day Day, Plan Plan)> PublishAsync(TestShop shop)
    {
        await using var context = await shop.ContextAsync();
        var snapshot = await ShopSnapshot.ReadAsync(context, shop.Get<TimeProvider>().GetUtcNow(), CancellationToken.None);
        var day = DayFromShop.Make(snapshot);
        var bytes = DayWriter.Write(day);
        var plan = DayPlanner.First(day, Fingerprint.Sha256(bytes));
        Assert.Empty(PlanChecker.Check(day, plan, Fingerprint.Sha256(bytes)));
        var (dayText, planText) = (System.Text.Encoding.UTF8.GetString(bytes), System.Text.Encoding.UTF8.GetString(PlanWriter.Write(plan)));
        var input = new PlanInput(snapshot.Now, snapshot.Journal, dayText, planText, "");
        Assert.True((await shop.Get<PublishPlan>().RunAsync(Asked.BySystem(), input)).IsOk);
        return (day, plan);
    }

    [Fact]
    public async Task Pin_NotBefore_IsKeptByTheNextPlanAndSaidSo()
    {
        var (shop, owner, piece, step) = await StartAsync();
        await using var _ = shop;
        var when = shop.Get<TimeProvider>().GetUtcNow().AddDays(2);
        var pin = new PinInput(piece.Code, step, PinKind.NotBefore, when, null);
        Assert.True((await shop.Get<PinPiece>().RunAsync(Asked.By(owner), pin)).IsOk);
        Assert.Equal(PinState.NotPlannedYet, Assert.Single(await shop.Get<PinsView>().LoadAsync()).State);
        var (_, plan) = await PublishAsync(shop);
        Assert.True(plan.StartOf(piece.Code, step) >= (when - shop.Get<TimeProvider>().GetUtcNow()).TotalSeconds - 1);
        var row = Assert.Single(await shop.Get<PinsView>().LoadAsync());
        Assert.Equal((PinState.Kept, piece.Code), (row.State, row.Piece));
    }

    [Fact]
    public async Task Pin_AtAnHourAtNight_CannotBeKeptAndThePageSaysWhenItStarts()
    {
        var (shop, owner, piece, step) = await StartAsync();
        await using var _ = shop;
        var night = DateTimeOffset.Parse("2026-01-01T02:00:00Z", CultureInfo.InvariantCulture);
        var now = shop.Get<TimeProvider>().GetUtcNow();
        var when = now.Date.AddDays(2).Add(night.TimeOfDay);
        var pin = new PinInput(piece.Code, step, PinKind.At, new DateTimeOffset(when, TimeSpan.Zero), null);
        Assert.True((await shop.Get<PinPiece>().RunAsync(Asked.By(owner), pin)).IsOk);
        await PublishAsync(shop);
        var row = Assert.Single(await shop.Get<PinsView>().LoadAsync());
        Assert.Equal(PinState.NotKept, row.State);
        Assert.NotNull(row.Start);
    }

    [Fact]
    public async Task Pin_SecondOfTheSameStep_TakesThePlaceOfTheFirst_AndIsRemoved()
    {
        var (shop, owner, piece, step) = await StartAsync();
        await using var _ = shop;
        var now = shop.Get<TimeProvider>().GetUtcNow();
        foreach (var days in new[] { 1, 3 })
            await shop.Get<PinPiece>()
                .RunAsync(Asked.By(owner), new PinInput(piece.Code, step, PinKind.NotBefore, now.AddDays(days), null));
        var row = Assert.Single(await shop.Get<PinsView>().LoadAsync());
        Assert.True((await shop.Get<RemovePin>().RunAsync(Asked.By(owner), row.Id)).IsOk);
        Assert.Empty(await shop.Get<PinsView>().LoadAsync());
    }

    [Theory]
    [InlineData("NOSUCH", 1, PinKind.NotBefore, 24, null, "pin-piece")]
    [InlineData(null, 99, PinKind.NotBefore, 24, null, "pin-step")]
    [InlineData(null, 0, PinKind.NotBefore, -1, null, "pin-past")]
    [InlineData(null, 0, PinKind.At, null, null, "pin-when")]
    [InlineData(null, 0, PinKind.With, null, "NOSUCH", "pin-with")]
    [InlineData(null, 0, PinKind.With, null, "itself", "pin-itself")]
    [InlineData(null, 1, PinKind.With, null, "itself", "pin-alone")]
    public async Task Pin_ThatMakesNoSense_IsRefusedBesideItsField(
        string? code,
        int step,
        PinKind kind,
        int? hours,
        string? with,
        string refusal
    )
    {
        var (shop, owner, piece, cure) = await StartAsync();
        await using var _ = shop;
        DateTimeOffset? when = hours is { } h ? shop.Get<TimeProvider>().GetUtcNow().AddHours(h) : null;
        var other = with == "itself" ? piece.Code : with;
        var input = new PinInput(code ?? piece.Code, step == 0 ? cure : step, kind, when, other);
        var refused = Assert.Single((await shop.Get<PinPiece>().RunAsync(Asked.By(owner), input)).Refusals);
        Assert.Equal(refusal, refused.Code);
        Assert.NotNull(refused.Field);
    }

    [Fact]
    public async Task Pin_ByTheBench_IsNotAllowed()
    {
        var (shop, _, piece, step) = await StartAsync();
        await using var _1 = shop;
        var bench = await shop.WorkerAsync(WorkerRole.Bench);
        var when = shop.Get<TimeProvider>().GetUtcNow().AddDays(1);
        var refused = await shop.Get<PinPiece>().RunAsync(Asked.By(bench), new PinInput(piece.Code, step, PinKind.NotBefore, when, null));
        Assert.Equal("no-right", Assert.Single(refused.Refusals).Code);
    }

    [Fact]
    public async Task Pin_WithAPieceThatLeaves_NoLongerBindsThePlan()
    {
        var (shop, owner, piece, step) = await StartAsync();
        await using var _ = shop;
        await using (var context = await shop.ContextAsync())
        {
            var gone = await context.Pieces.FirstAsync(p => p.State == PieceState.HandedOver);
            context.Pins.Add(new ShopFloor.Data.Records.PlanPin(Guid.CreateVersion7(), piece.Id, step, "test") { With = gone.Code });
            await context.SaveChangesAsync();
        }
        var (day, _) = await PublishAsync(shop);
        Assert.Empty(day.Pieces.Single(p => p.Id == piece.Code).Pins);
    }
}

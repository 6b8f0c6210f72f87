using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Parts;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Office.Workshop;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>A print that has not had its time to dry, or has lain too long, is asked about at Tape.</summary>
public sealed class PrintAgeTests
{
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Tape_PrintedJustNow_IsAskedUntilItIsDry(bool started)
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.WorkToAsync(StepKind.Tape);
        var tape = (await shop.PiecesAsync())[0].NextAttended!.Number;
        await using (var context = await shop.Shop.ContextAsync())
        {
            var now = shop.Shop.Clock.GetUtcNow();
            await context.Orders.ExecuteUpdateAsync(o => o.SetProperty(x => x.PrintedAt, now));
        }
        shop.Wait(9 * 60);
        var asked = started ? await shop.StartAsync(tape) : await shop.FinishAsync(tape);
        Assert.Equal("print-damp", BenchShop.Code0(asked));
        Assert.Contains("The print is dry at", asked.Refusals[0].Text, StringComparison.Ordinal);
        shop.Wait(60);
        BenchShop.Must(started ? await shop.StartAsync(tape) : await shop.FinishAsync(tape));
    }

    [Fact]
    public async Task Tape_PrintedJustNow_GoesOnWithAReason()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.WorkToAsync(StepKind.Tape);
        var tape = (await shop.PiecesAsync())[0].NextAttended!.Number;
        await using (var context = await shop.Shop.ContextAsync())
        {
            var now = shop.Shop.Clock.GetUtcNow();
            await context.Orders.ExecuteUpdateAsync(o => o.SetProperty(x => x.PrintedAt, now));
        }
        BenchShop.Must(await shop.FinishAsync(tape, decision: new TimeDecision(TimeChoice.GoOn, "Dried with warm air")));
        Assert.All(
            await shop.PiecesAsync(),
            p => Assert.Equal("print-damp: Dried with warm air", p.Items.First(i => i.Number == tape).Decision)
        );
    }

    /// <summary>A transfer is good for about a week (common practice, no source), or as long as the workshop says.</summary>
    [Theory]
    [InlineData(7, true)]
    [InlineData(7, false)]
    [InlineData(30, true)]
    public async Task Tape_PrintedLongAgo_IsAskedOnceItIsOlderThanItStaysGood(int days, bool started)
    {
        await using var shop = await BenchShop.OpenAsync(1);
        await shop.WorkToAsync(StepKind.Tape);
        var tape = (await shop.PiecesAsync())[0].NextAttended!.Number;
        var owner = await shop.Shop.WorkerAsync(WorkerRole.Owner);
        var profile = (await shop.Shop.Get<SettingsView>().LoadAsync()).Profile with
        {
            Name = "Moorlight",
            Country = "DE",
            TransferGoodDays = days,
        };
        Assert.True((await shop.Shop.Get<ChangeProfile>().RunAsync(Asked.By(owner), profile)).IsOk);
        await using (var context = await shop.Shop.ContextAsync())
        {
            var then = shop.Shop.Clock.GetUtcNow().AddDays(-days);
            await context.Orders.ExecuteUpdateAsync(o => o.SetProperty(x => x.PrintedAt, then));
        }
        shop.Wait(60);
        var asked = started ? await shop.StartAsync(tape) : await shop.FinishAsync(tape);
        Assert.Equal("print-stale", BenchShop.Code0(asked));
        Assert.Contains($"stays good for {days} days", asked.Refusals[0].Text, StringComparison.Ordinal);
        BenchShop.Must(await shop.FinishAsync(tape, decision: new TimeDecision(TimeChoice.GoOn, "Kept dry, dark and flat")));
        Assert.All(
            await shop.PiecesAsync(),
            p => Assert.Equal("print-stale: Kept dry, dark and flat", p.Items.First(i => i.Number == tape).Decision)
        );
    }

    [Fact]
    public async Task Tape_PrintedWithinItsWeek_IsNotAskedAbout()
    {
        await using var shop = await BenchShop.OpenAsync(1);
        await shop.WorkToAsync(StepKind.Tape);
        await using (var context = await shop.Shop.ContextAsync())
        {
            var then = shop.Shop.Clock.GetUtcNow().AddDays(-7).AddHours(1);
            await context.Orders.ExecuteUpdateAsync(o => o.SetProperty(x => x.PrintedAt, then));
        }
        BenchShop.Must(await shop.FinishAsync((await shop.PiecesAsync())[0].NextAttended!.Number));
    }

    [Fact]
    public void Question_OfAPrintThatHasLainTooLong_WaitingDoesNotMend()
    {
        var outcome = new MoveOutcomeArgs { Refusals = [new OutcomeRefusal("print-stale", "Old.")] };
        Assert.True(outcome.IsToDecide);
        Assert.False(Decisions.MayWait(outcome));
        Assert.Contains("Kept dry, dark and flat", Decisions.ReasonsFor(outcome));
        Assert.Equal([TimeChoice.GoOn, TimeChoice.Hold], Decisions.For(outcome, []).Select(d => d.Decision.Choice));
    }

    [Fact]
    public void Question_MayBeWaitedForOrAnsweredWithAReasonThatFits()
    {
        var outcome = new MoveOutcomeArgs { Refusals = [new OutcomeRefusal("print-damp", "Damp.")] };
        Assert.True(outcome.IsToDecide);
        Assert.True(Decisions.MayWait(outcome));
        Assert.Contains("Dried with warm air", Decisions.ReasonsFor(outcome));
        Assert.Equal([TimeChoice.GoOn, TimeChoice.Hold], Decisions.For(outcome, []).Select(d => d.Decision.Choice));
    }
}

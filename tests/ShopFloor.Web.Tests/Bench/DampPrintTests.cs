using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Parts;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>A print that has not had its time to dry is asked about at Tape.</summary>
public sealed class DampPrintTests
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

using System.Text;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Plans;
using ShopFloor.Web.Tests.Support;
using StepKind = ShopFloor.Domain.Recipes.StepKind;

namespace ShopFloor.Web.Tests.Plans;

/// <summary>One piece with steps that nobody can plan took the plan from the whole shop.</summary>
public sealed class FaultyPieceTests
{
    [Theory]
    [InlineData(true, "are two waits in a row")]
    [InlineData(false, "is below its shortest")]
    public async Task Publish_PieceWhoseStepsCannotBePlanned_PlansAllOthersAndSaysWhy(bool twoWaits, string reason)
    {
        await using var shop = await ShopOrders.DemoAsync();
        var code = await SpoilAsync(shop, twoWaits);
        await using var context = await shop.ContextAsync();
        var snapshot = await ShopSnapshot.ReadAsync(context, shop.Clock.GetUtcNow(), CancellationToken.None);
        Assert.Contains(snapshot.Pieces, p => p.Code == code);
        var day = DayFromShop.Make(snapshot);
        Assert.Equal(snapshot.Pieces.Select(p => p.Code).Where(c => c != code), day.Pieces.Select(p => p.Id));
        var bytes = DayWriter.Write(day);
        var plan = Encoding.UTF8.GetString(PlanWriter.Write(DayPlanner.First(day, Fingerprint.Sha256(bytes))));
        var input = new PlanInput(snapshot.Now, snapshot.Journal, Encoding.UTF8.GetString(bytes), plan, "test");
        var done = await shop.Get<PublishPlan>().RunAsync(Asked.BySystem(), input);
        Assert.True(done.IsOk, string.Join(' ', done.Refusals.Select(r => r.Text)));
        var trouble = Assert.Single((await shop.Get<TimelineView>().LoadAsync(0))!.Troubles, t => t.Piece == code);
        Assert.Contains(reason, trouble.Text, StringComparison.Ordinal);
    }

    private static async Task<string> SpoilAsync(TestShop shop, bool twoWaits)
    {
        await using var context = await shop.ContextAsync();
        var pieces = await context.Pieces.AsNoTracking().Where(p => p.State == PieceState.Received).OrderBy(p => p.Code).ToListAsync();
        var piece = pieces.First(p => p.Items.Any(i => i.Kind == StepKind.Rest));
        var rest = piece.Items.First(i => i.Kind == StepKind.Rest);
        var (number, kind) = (twoWaits ? rest.Number + 1 : rest.Number, StepKind.Rest);
        var settings = new RecipeStep(number, kind) { MinSeconds = 600, MaxSeconds = twoWaits ? null : 60 };
        await context
            .WorkItems.Where(i => i.Piece == piece.Id && i.Number == number)
            .ExecuteUpdateAsync(i => i.SetProperty(x => x.Settings, settings).SetProperty(x => x.Kind, kind));
        return piece.Code;
    }
}

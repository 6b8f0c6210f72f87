using Bunit;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench;
using ShopFloor.Web.Bench.Parts;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>Promoter is not wiped on unasked while nothing is there to spray onto it.</summary>
public sealed class CoatToComeTests
{
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Wipe_NoUsableCanOfTheCoatAfterIt_AsksAndAPersonMayGoOnWithAWord(bool atOnceDone)
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.WorkToAsync(StepKind.Wipe);
        var wipe = (await shop.PiecesAsync())[0].NextAttended!.Number;
        Task<ShopFloor.Domain.Result<ShopFloor.Web.Bench.Moves.Moved>> WipeAsync(TimeDecision? decision = null) =>
            atOnceDone ? shop.FinishAsync(wipe, decision: decision) : shop.StartAsync(wipe, decision: decision);
        Assert.Null((await SheetAsync(shop)).Step!.NoCan);

        await BarAsync(shop, "peels");
        Assert.Contains("no usable can of white base", (await SheetAsync(shop)).Step!.NoCan, StringComparison.Ordinal);
        var asked = await WipeAsync();
        Assert.Equal("coat-missing", BenchShop.Code0(asked));
        Assert.Contains("no usable can of white base", asked.Refusals[0].Text, StringComparison.Ordinal);
        Assert.Equal("reason-missing", BenchShop.Code0(await WipeAsync(new TimeDecision(TimeChoice.GoOn, " "))));
        BenchShop.Must(await WipeAsync(new TimeDecision(TimeChoice.GoOn, "The can is on its way")));
    }

    [Fact]
    public async Task Wipe_UsableCanOfTheCoatAfterIt_IsNotAskedAbout()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.WorkToAsync(StepKind.Wipe);
        BenchShop.Must(await shop.FinishAsync((await shop.PiecesAsync())[0].NextAttended!.Number));
    }

    [Fact]
    public async Task Question_ACanIsMissing_OffersToGoOnWithItsOwnReasonsAndNothingElse()
    {
        var outcome = new MoveOutcomeArgs { Refusals = [new OutcomeRefusal("coat-missing", "AAA: none.")] };
        Assert.True(outcome.IsToDecide);
        Assert.Equal(TimeChoice.GoOn, Assert.Single(Decisions.For(outcome, [])).Decision.Choice);
        Assert.Equal(Decisions.ReasonsWithoutCan, Decisions.ReasonsFor(outcome));
        await using var page = TestPage.Plain();
        var panel = page.Render<DecidePanel>(p => p.Add(d => d.Outcome, outcome).Add(d => d.OnWait, () => { }));
        Assert.Contains(panel.FindAll("button"), b => b.TextContent.Trim() == "Not now");
    }

    [Fact]
    public async Task Spray_NoUsableCan_CannotBeStartedAndSaysWhy()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.WorkToAsync(StepKind.Spray);
        await using var page = TestPage.Of(shop.Shop);
        Assert.False((await StartAsync(shop, page)).HasAttribute("disabled"));
        await BarAsync(shop, "peels");
        Assert.True((await StartAsync(shop, page)).HasAttribute("disabled"));
        var sheet = await SheetAsync(shop);
        var card = page.Render<StepSheet>(p => p.Add(s => s.Step, sheet.Step!).Add(s => s.Code, sheet.Codes[0]));
        Assert.Contains("There is no usable can of white base", card.Find("[data-no-can]").TextContent, StringComparison.Ordinal);
        await BarAsync(shop, null);
        Assert.False((await StartAsync(shop, page)).HasAttribute("disabled"));
    }

    private static async Task<AngleSharp.Dom.IElement> StartAsync(BenchShop shop, BunitContext page)
    {
        var sheet = await SheetAsync(shop);
        return page.Render<StepActions>(p => p.Add(a => a.Sheet, sheet))
            .FindAll("button")
            .Single(b => b.TextContent.Trim().StartsWith("Shaken", StringComparison.Ordinal));
    }

    private static async Task<PieceSheet> SheetAsync(BenchShop shop) =>
        Assert.Single((await shop.Shop.Get<FindByCode>().ReadAsync(shop.Code)).Value.Pieces);

    private static async Task BarAsync(BenchShop shop, string? why)
    {
        await using var context = await shop.Shop.ContextAsync();
        var white = context.Coatings.Where(c => c.Kind == CoatingKind.WhiteBase).Select(c => c.Id);
        await context.Cans.Where(c => white.Contains(c.Coating)).ExecuteUpdateAsync(c => c.SetProperty(x => x.HeldBecause, why));
    }
}

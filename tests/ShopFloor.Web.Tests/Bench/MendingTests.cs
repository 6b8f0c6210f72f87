using Bunit;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Parts;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>Whoever works a piece that was sent back reads on its card what the fault asks for, though somebody else found it.</summary>
public sealed class MendingTests
{
    [Fact]
    public async Task SentBackToClean_ForARun_TheCardSaysToSandUntilThatStepIsDone()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        await shop.WorkToAsync(StepKind.Cure);
        var back = new TimeDecision(TimeChoice.Rework, "", 1);
        var report = new FaultReport(new Target(shop.Code), "run", "left edge", back);
        BenchShop.Must(await shop.Shop.Get<ReportFault>().RunAsync(shop.Ask(), report));

        var mend = Assert.Single((await SheetAsync(shop)).Step!.Mends);
        Assert.Equal(("Run", "left edge"), (mend.Fault, mend.Note));
        Assert.StartsWith("Sand back with 400 to 600 grit", mend.Remedy, StringComparison.Ordinal);
        BenchShop.Must(await shop.StartAsync(1));
        var step = (await SheetAsync(shop)).Step!;
        await using var page = TestPage.Of(shop.Shop);
        var card = page.Render<StepSheet>(p => p.Add(s => s.Step, step).Add(s => s.Code, shop.Code));
        Assert.Contains("Sand back with 400 to 600 grit", card.Find("[data-mend]").TextContent, StringComparison.Ordinal);
        Assert.Contains("left edge", card.Find("[data-mend]").TextContent, StringComparison.Ordinal);
        Assert.Contains(step.Cautions, c => c.StartsWith("Sanding makes dust", StringComparison.Ordinal));

        BenchShop.Must(await shop.FinishAsync(1));
        Assert.Empty((await SheetAsync(shop)).Step!.Mends);
    }

    [Fact]
    public async Task SentBack_AndTakenBackAgain_TheCardSaysNothing()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        await shop.WorkToAsync(StepKind.Wipe);
        var report = new FaultReport(new Target(shop.Code), "dust", "", new TimeDecision(TimeChoice.Rework, "", 1));
        var command = Guid.CreateVersion7();
        BenchShop.Must(await shop.Shop.Get<ReportFault>().RunAsync(shop.Ask(command), report));
        Assert.Single((await SheetAsync(shop)).Step!.Mends);
        BenchShop.Must(await shop.UndoAsync(command));
        Assert.Empty((await SheetAsync(shop)).Step!.Mends);
    }

    private static async Task<PieceSheet> SheetAsync(BenchShop shop) =>
        Assert.Single((await shop.Shop.Get<FindByCode>().ReadAsync(shop.Code)).Value.Pieces);
}

using System.Text.Json;
using Bunit;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Parts;
using ShopFloor.Web.Bench.Photos;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Shared;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>A tray with a name on each piece: what is tapped is about the one whose name was chosen.</summary>
public sealed class NamedTrayTests
{
    private static readonly string[] Names = ["Anna", "Ben", "Tom"];

    [Fact]
    public async Task Fault_OnOneName_SpoilsThatOneAndItsNameIsMadeAnew()
    {
        await using var shop = await TapedAsync();
        var sheet = await SheetAsync(shop);
        Assert.Equal((null, 3), (sheet.Print, sheet.Names.Count));
        await using var page = PageOf(shop);
        var panel = page.Render<FaultPanel>(p =>
            p.Add(f => f.Sheet, sheet)
                .Add(f => f.OnDone, EventCallback.Factory.Create<(Guid, Moved)?>(page, _ => { }))
                .AddCascadingValue(Session(shop))
        );
        await panel.FindAll(".fault-list button").First().ClickAsync();
        Assert.Empty(panel.FindAll(".count-choice"));
        Assert.True(Button(panel, "Report 0 of 3 as spoiled").HasAttribute("disabled"));
        await Button(panel, "Tom").ClickAsync();
        await Button(panel, "Report 1 of 3 as spoiled").ClickAsync();

        Assert.Equal(["Tom"], await TextsAsync(shop, PieceState.Spoiled));
        var lost = (await shop.PiecesAsync()).Single(p => p.State == PieceState.Spoiled);
        var made = BenchShop.Must(await shop.Shop.Get<MakeAnother>().RunAsync(shop.Ask(), new Target(lost.Code))).Codes[0];
        Assert.Equal(["Tom"], Assert.Single((await shop.Shop.Get<FindByCode>().ReadAsync(made)).Value.Pieces).OpenPrints);
    }

    [Fact]
    public async Task Inspect_OneNameIsBad_ThatOneIsSpoiledAndTheOthersAreGood()
    {
        await using var shop = await TapedAsync();
        await shop.WorkToAsync(StepKind.Inspect);
        await using var page = PageOf(shop);
        var sheet = await SheetAsync(shop);
        IRenderedComponent<InspectPanel> Panel(PieceSheet of) =>
            page.Render<InspectPanel>(p =>
                p.Add(i => i.Sheet, of)
                    .Add(i => i.OnDone, EventCallback.Factory.Create<(Guid, Moved)?>(page, _ => { }))
                    .AddCascadingValue(Session(shop))
            );
        var panel = Panel(sheet);
        await Button(panel, "Cracked").ClickAsync();
        Assert.True(Button(panel, "Report 0 of 3 as spoiled").HasAttribute("disabled"));
        await Button(panel, "Ben").ClickAsync();
        await Button(panel, "Report 1 of 3 as spoiled").ClickAsync();
        Assert.Equal(["Ben"], await TextsAsync(shop, PieceState.Spoiled));

        await Button(Panel(await SheetAsync(shop)), "All 2 good").ClickAsync();
        Assert.Equal(["Anna", "Tom"], await TextsAsync(shop, PieceState.CheckedGood));
    }

    [Fact]
    public async Task Card_OfSeveralNames_SaysHowManyAndOffersWhich()
    {
        await using var shop = await TapedAsync();
        var sheet = await SheetAsync(shop);
        await using var page = PageOf(shop);
        var card = page.Render<PieceCard>(p => p.Add(c => c.Sheet, sheet).Add(c => c.PromisedText, "today"));
        Assert.Contains("3 different texts", card.Markup, StringComparison.Ordinal);
        Assert.DoesNotContain("print on it", card.Markup, StringComparison.Ordinal);
        Assert.Null(TapOf(card, "Put together").Codes);
        await Button(card, "Tom").ClickAsync();
        var tap = TapOf(card, "Put together");
        var tom = (await shop.PiecesAsync()).Single(p => p.BoundText == "Tom").Code;
        Assert.Equal([tom], tap.Codes!);
        Assert.Null(tap.Count);
        BenchShop.Must(await shop.Shop.Get<BenchMoves>().RunAsync(shop.Ask(), TapOf(card, "Start") with { IsHot = true }, default));
        var runs = (await shop.PiecesAsync()).Where(p => p.NextAttended!.State == WorkState.Running);
        Assert.Equal(["Tom"], runs.Select(p => p.BoundText));
        Assert.Equal(
            "already-done",
            BenchShop.Code0(await shop.Shop.Get<BenchMoves>().RunAsync(shop.Ask(), TapOf(card, "Start") with { IsHot = true }, default))
        );
    }

    [Fact]
    public async Task Tape_OneOfATray_GetsThePrintThatWasChosen()
    {
        await using var shop = await BenchShop.OpenAsync(3, texts: Names);
        await shop.WorkToAsync(StepKind.Tape);
        var sheet = await SheetAsync(shop);
        await using var page = PageOf(shop);
        var card = page.Render<PieceCard>(p => p.Add(c => c.Sheet, sheet).Add(c => c.PromisedText, "today"));
        Assert.Contains("Next print: Anna", card.Markup, StringComparison.Ordinal);
        Assert.Null(TapOf(card, "Done").Text);
        await card.Find("button[aria-label='One fewer']").ClickAsync();
        await card.Find("button[aria-label='One fewer']").ClickAsync();
        Assert.Equal("Anna", TapOf(card, "Done").Text);
        await Button(card, "Tom").ClickAsync();
        BenchShop.Must(await shop.Shop.Get<BenchMoves>().RunAsync(shop.Ask(), TapOf(card, "Done"), default));
        Assert.Equal("Tom", Assert.Single(await shop.PiecesAsync(), p => p.IsBound).BoundText);
    }

    private static async Task<BenchShop> TapedAsync()
    {
        var shop = await BenchShop.OpenAsync(3, texts: Names);
        await shop.WorkToAsync(StepKind.Press);
        return shop;
    }

    private static async Task<PieceSheet> SheetAsync(BenchShop shop) =>
        (await shop.Shop.Get<FindByCode>().ReadAsync(shop.Code)).Value.Pieces[0];

    private static async Task<IEnumerable<string?>> TextsAsync(BenchShop shop, PieceState state) =>
        (await shop.PiecesAsync()).Where(p => p.State == state).Select(p => p.BoundText).Order();

    private static AngleSharp.Dom.IElement Button<T>(IRenderedComponent<T> part, string word)
        where T : IComponent
    {
        var all = part.FindAll("button");
        return all.FirstOrDefault(b => b.TextContent.Trim() == word)
            ?? all.First(b => b.TextContent.Trim().StartsWith(word, StringComparison.Ordinal));
    }

    private static Tap TapOf(IRenderedComponent<PieceCard> card, string word) =>
        JsonSerializer.Deserialize<Tap>(Button(card, word).GetAttribute("data-move")!, JsonForms.Default)!;

    private static BunitContext PageOf(BenchShop shop)
    {
        var page = TestPage.Plain();
        page.Services.AddSingleton(shop.Shop.Get<ReportFault>());
        page.Services.AddSingleton(shop.Shop.Get<InspectPieces>());
        page.Services.AddSingleton(shop.Shop.Get<TakePhoto>());
        page.ComponentFactories.AddStub<StepSheet>();
        page.ComponentFactories.AddStub<WayList>();
        return page;
    }

    private static Task<AuthenticationState> Session(BenchShop shop) => TestPage.Session(shop.Worker);
}

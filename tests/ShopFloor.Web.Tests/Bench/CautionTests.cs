using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Recipes;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>Cautions say what holds for this recipe, this material and this workshop.</summary>
public sealed class CautionTests
{
    private static readonly MaterialSheet Aluminium = ShippedMaterials.Find("al")!;

    [Theory]
    [InlineData(null, "Peel hot", "Peel cold")]
    [InlineData("hot", "Peel hot", "Peel cold")]
    [InlineData("cold", "Peel cold", "Peel hot")]
    public void For_ThePress_SaysToPeelAsTheRecipeSays(string? peel, string said, string other)
    {
        var press = new RecipeStep(1, StepKind.Press) { Celsius = 190, Peel = peel };
        var cautions = Cautioned.For(press, Aluminium, new());
        Assert.Single(cautions, c => c.StartsWith(said, StringComparison.Ordinal));
        Assert.DoesNotContain(cautions, c => c.StartsWith(other, StringComparison.Ordinal));
        Assert.Contains(StepCard.SettingsOf(press, null), s => s == new Setting("Peel", peel ?? "hot"));
    }

    /// <summary>What is set for a recipe holds for what is booked by it from then on; lying together in one press, they are told apart.</summary>
    [Fact]
    public async Task Session_OfPiecesThatPeelHotAndCold_SaysWhichIsWhich()
    {
        await using var shop = await BenchShop.OpenAsync(1);
        var owner = await shop.Shop.WorkerAsync(WorkerRole.Owner);
        var recipe = (await shop.Shop.Get<RecipeListView>().LoadAsync()).First(r => r.Finish == Finish.WhiteGround);
        var steps = recipe.Steps.Select(s => s.Kind == StepKind.Press ? s with { Peel = "cold" } : s).ToList();
        Assert.True((await shop.Shop.Get<ChangeRecipe>().RunAsync(Asked.By(owner), new RecipeInput(recipe.Id, steps))).IsOk);
        shop.Wait(5);
        var cold = await shop.BookAsync(1, false, Finish.WhiteGround, "al");
        await shop.WorkToAsync(StepKind.Press);
        await shop.WorkToAsync(StepKind.Press, cold);
        var session = BenchShop.Must(await shop.Shop.Get<BuildBatch>().RunAsync(shop.Ask(), new BatchWish([shop.Code, cold]))).Batch!;
        var sheet = (await shop.Shop.Get<FindByCode>().ReadAsync(session)).Value.Batch!;
        Assert.Contains(new Setting("Peel", $"hot: {shop.Code}; cold: {cold}"), sheet.Settings);
        Assert.Equal(2, sheet.Cautions.Count(c => c.StartsWith("Peel", StringComparison.Ordinal)));
    }

    /// <summary>Nothing lies in it, so nothing is said of when its paper comes off.</summary>
    [Fact]
    public async Task Session_WithoutPieces_HasNoRowOnPeeling()
    {
        await using var shop = await BenchShop.OpenAsync(1);
        await shop.WorkToAsync(StepKind.Press);
        var session = BenchShop.Must(await shop.Shop.Get<BuildBatch>().RunAsync(shop.Ask(), new BatchWish([shop.Code]))).Batch!;
        await using (var context = await shop.Shop.ContextAsync())
        {
            var batch = await context.Batches.SingleAsync(b => b.Code == session);
            Assert.True(batch.Arrange([], batch.Settings).IsOk);
            await context.SaveChangesAsync();
        }
        var sheet = (await shop.Shop.Get<FindByCode>().ReadAsync(session)).Value.Batch!;
        Assert.Empty(sheet.Members);
        Assert.DoesNotContain(sheet.Settings, s => s.Label == "Peel");
    }

    [Theory]
    [InlineData("hardwood", StepKind.Tape, true)]
    [InlineData("mdf", StepKind.Press, true)]
    [InlineData("hardwood", StepKind.Spray, false)]
    [InlineData("slate", StepKind.Press, false)]
    [InlineData("al", StepKind.Tape, false)]
    public void For_Wood_SaysToPressItBareBeforeThePrintGoesOn(string material, StepKind kind, bool said) =>
        Assert.Equal(
            said,
            Cautioned
                .For(new RecipeStep(1, kind), ShippedMaterials.Find(material)!, new())
                .Any(c => c.StartsWith("Wood:", StringComparison.Ordinal))
        );

    [Theory]
    [InlineData(StepKind.Spray, null, true)]
    [InlineData(StepKind.Rest, null, true)]
    [InlineData(StepKind.Rest, 35, false)]
    [InlineData(StepKind.Cure, null, false)]
    public void For_SprayAndFlashOff_NamesTheAirOfTheWorkshop(StepKind kind, int? coolTo, bool said)
    {
        var shop = new WorkshopProfile { SprayFromCelsius = 16.5m, SprayMostHumidity = 60 };
        var cautions = Cautioned.For(new RecipeStep(1, kind) { CoolToCelsius = coolTo }, Aluminium, shop);
        Assert.Equal(said, cautions.Contains("Air from 16.5 °C to 25 °C, humidity at most 60 %: outside of that let it flash off longer."));
    }

    /// <summary>Nobody does anything while it flashes off: what is to be known of that stands on the card of what comes next.</summary>
    [Fact]
    public async Task Card_WhileItFlashesOff_NamesTheAirToo()
    {
        await using var shop = await BenchShop.OpenAsync(1);
        await shop.WorkToAsync(StepKind.Cure);
        var step = (await shop.Shop.Get<FindByCode>().ReadAsync(shop.Code)).Value.Pieces[0].Step!;
        Assert.Equal(StepKind.Cure, step.Kind);
        var rest = (await shop.PieceAsync(shop.Code)).Items.First(i => i.Number == step.Number - 1);
        Assert.Equal(
            rest.State == WorkState.Running,
            step.Cautions.Any(c => c.StartsWith("Air from 18 °C to 25 °C, humidity at most 65 %", StringComparison.Ordinal))
        );
    }

    /// <summary>Hot glass is judged against the air it comes out into: 155 K below 160 °C in a cold room, 120 K in a hot one.</summary>
    [Fact]
    public async Task Card_OfHotGlass_IsReckonedWithTheRoomOfTheWorkshop()
    {
        await using var shop = await BenchShop.OpenAsync(1);
        await shop.WorkToAsync(StepKind.Cure);
        var piece = await shop.PieceAsync(shop.Code);
        var size = new PieceDescription { Thickness = Length.FromMillimetres(4) };
        var line = new OrderLine(piece.Line, 1, 1, size, Finish.BehindGlass);
        string Said(decimal room) =>
            string.Join(
                ' ',
                StepCard.Of(piece, line, ShippedMaterials.Find("glass")!, (null, null), new() { RoomCelsius = room })!.Cautions
            );
        Assert.Contains(" 155 K at once", Said(5), StringComparison.Ordinal);
        Assert.Contains(" 120 K at once", Said(40), StringComparison.Ordinal);
    }
}

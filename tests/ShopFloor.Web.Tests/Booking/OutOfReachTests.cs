using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Counter.Intake;
using ShopFloor.Web.Office.Recipes;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Booking;

/// <summary>What is hotter than every oven or press goes is said where it is entered, and to the customer in plain words.</summary>
public sealed class OutOfReachTests
{
    [Fact]
    public async Task Quote_OfALookThatNoOvenReaches_IsARefusalInPlainWords()
    {
        await using var shop = await ShopOrders.DemoAsync();
        await OvensUpToAsync(shop, 100);
        var line = Assert.Single((await shop.Get<QuoteOrder>().RunAsync(ShopOrders.Plates())).Lines);
        Assert.Equal(Verdict.Refuse, line.Verdict);
        Assert.Contains("do not reach the heat", Assert.Single(line.Reasons), StringComparison.Ordinal);
        Assert.Contains(line.Faults, f => f.Field == "finish");

        var offers = await shop.Get<FinishPrices>().RunAsync(ShopOrders.Plates().Lines[0], (false, null), [Finish.WhiteGround]);
        Assert.Equal((Verdict.Refuse, line.Reasons[0]), (offers[Finish.WhiteGround].Verdict, offers[Finish.WhiteGround].Sentence));
    }

    [Theory]
    [InlineData(600, 400, 2, "width", "This is larger than our oven takes: at most 400 × 320 mm, and 90 mm thick.")]
    [InlineData(100, 100, 30, "thickness", "This is larger than our press takes: at most 480 × 380 mm, and 25 mm thick.")]
    public async Task Quote_OfAPieceThatGoesIntoNoOvenOrPress_IsRefusedWithTheLargestSize(
        int width,
        int height,
        int thick,
        string field,
        string said
    )
    {
        await using var shop = await ShopOrders.DemoAsync();
        var order = ShopOrders.Plates();
        var piece = order.Lines[0].Piece with { Width = Mm(width), Height = Mm(height), Thickness = Mm(thick), IsOwn = true };
        var line = Assert.Single(
            (await shop.Get<QuoteOrder>().RunAsync(order with { Lines = [order.Lines[0] with { Piece = piece }] })).Lines
        );
        Assert.Equal((Verdict.Refuse, said), (line.Verdict, Assert.Single(line.Reasons)));
        Assert.Equal(field, Assert.Single(line.Faults).Field);

        // Said at once, before anything else is known of it.
        await using var context = await shop.ContextAsync();
        var facts = await ShopFacts.LoadAsync(context, shop.Clock.GetUtcNow(), default);
        Assert.Equal([said], JudgeLine.Barred(piece, facts)!.Reasons);
        Assert.Null(JudgeLine.Barred(order.Lines[0].Piece with { IsOwn = true }, facts));
    }

    /// <summary>The drying that a material adds is heat too: what bears only the press must not be baked before it.</summary>
    [Theory]
    [InlineData(MaterialClass.Stone, Verdict.Refuse)]
    [InlineData(MaterialClass.Wood, Verdict.Take)]
    public async Task Quote_OfAMaterialThatHoldsMoistureInARecipeWithoutCure_IsJudgedByTheStepsItGets(MaterialClass kind, Verdict verdict)
    {
        await using var shop = await ShopOrders.DemoAsync();
        await using var context = await shop.ContextAsync();
        var facts = await ShopFacts.LoadAsync(context, shop.Clock.GetUtcNow(), default);
        var shipped = ShippedRecipes.All.First(r => r.Finish == Finish.WhiteGround);
        var steps = shipped
            .Steps.Where(s => s.Kind is StepKind.Clean or StepKind.Tape || s.Number > 8)
            .Select((s, i) => s with { Number = i + 1 });
        var recipe = Recipe.Create(
            new RecipeId(Guid.CreateVersion7()),
            "Press only",
            1,
            Finish.WhiteGround,
            kind.ToString().ToLowerInvariant(),
            DateTimeOffset.UnixEpoch,
            ("al", Mm(1)),
            [.. steps]
        );
        Assert.True(recipe.IsOk, string.Join(' ', recipe.Refusals.Select(r => r.Text)));
        var sheet = ShippedMaterials.Find("hardwood")! with
        {
            Class = kind,
            Press = new(Verdict.Take, null, Verdict.Take, "Bears it.", Hazard.None),
        };
        var materials = new Dictionary<string, MaterialSheet>(facts.Settings.Materials) { ["hardwood"] = sheet };
        var order = ShopOrders.Plates().Lines[0];
        var judged = JudgeLine.Of(
            order with
            {
                Piece = order.Piece with { Material = "hardwood" },
            },
            facts with
            {
                Recipes = [recipe.Value],
                Settings = facts.Settings with { Materials = materials },
            },
            false,
            null
        );
        Assert.Equal(verdict, judged.Quote.Verdict);
        Assert.Equal(kind == MaterialClass.Wood, judged.Steps.Count > 0 && !judged.Steps.Any(s => s.Kind.InOven()));
    }

    private static Length Mm(decimal millimetres) => Length.FromMillimetres(millimetres);

    [Theory]
    [InlineData(StepKind.Cure, 380, "the hottest oven reaches")]
    [InlineData(StepKind.Press, 380, "the hottest press reaches 220 °C")]
    [InlineData(StepKind.Press, 60, "the least that a press here can hold is 100 °C")]
    public async Task Change_ToATemperatureOutOfReach_IsRefusedBesideItsField(StepKind kind, int celsius, string said)
    {
        await using var shop = await ShopOrders.DemoAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var recipe = (await shop.Get<RecipeListView>().LoadAsync()).First(r => r.Finish == Finish.WhiteGround);
        var step = recipe.Steps.First(s => s.Kind == kind);
        var steps = recipe.Steps.Select(s => s == step ? s with { Celsius = celsius } : s).ToList();

        var refused = await shop.Get<ChangeRecipe>().RunAsync(Asked.By(owner), new RecipeInput(recipe.Id, steps));
        var fault = Assert.Single(refused.Refusals);
        Assert.Contains(said, fault.Text, StringComparison.Ordinal);
        Assert.Contains(RecipeNumbers.Of(recipe.Steps), n => n.Name == fault.Field);

        var kept = await shop.Get<ChangeRecipe>().RunAsync(Asked.By(owner), new RecipeInput(recipe.Id, recipe.Steps));
        Assert.True(kept.IsOk);
    }

    private static async Task OvensUpToAsync(TestShop shop, decimal celsius)
    {
        await using var context = await shop.ContextAsync();
        foreach (var station in await context.Stations.ToListAsync())
            if (station.Settings is OvenSettings oven)
                Assert.True(station.Change(station.Name, oven with { HighestCelsius = celsius }).IsOk);
        await context.SaveChangesAsync();
    }
}

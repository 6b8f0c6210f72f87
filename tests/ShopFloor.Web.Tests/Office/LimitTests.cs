using System.Text.Json;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Colour;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pictures;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Counter.Intake;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Office.Recipes;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Office.Stations;
using ShopFloor.Web.Office.Workshop;
using ShopFloor.Web.Tests.Bench;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office;

/// <summary>The owner's limits are kept with the workshop, refused where they cannot be, and rule wherever they are about.</summary>
public sealed class LimitTests
{
    [Theory]
    [InlineData("OvershootKelvin", "51")]
    [InlineData("SafeMarginMillimetres", "51")]
    [InlineData("FloorPpi", "29")]
    [InlineData("ViewedFromMillimetres", "99")]
    [InlineData("MostReworks", "11")]
    [InlineData("MostReworks", "some")]
    public async Task Profile_LimitThatCannotBe_IsRefusedAtItsField(string field, string typed)
    {
        await using var shop = await TestShop.EmptyAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var form = new ProfileForm(new WorkshopProfile { Name = "Test", Country = "DE" });
        form.Limits[field] = typed;
        var read = form.Read();
        var refused = read.IsOk ? (await shop.Get<ChangeProfile>().RunAsync(Asked.By(owner), read.Value)).Refusals : read.Refusals;
        Assert.Equal(field, Assert.Single(refused).Field);
    }

    [Fact]
    public void Profile_KeptBeforeThereWereLimits_HasTheShippedOnes()
    {
        var kept = JsonSerializer.Deserialize<WorkshopProfile>("{}", JsonForms.Default)!;
        Assert.Equal(new WorkLimits(), kept.Limits);
        Assert.Equal(
            (10m, 3m, 100m, 400m, 2),
            (
                kept.Limits.OvershootKelvin,
                kept.Limits.SafeMarginMillimetres,
                kept.Limits.FloorPpi,
                kept.Limits.ViewedFromMillimetres,
                kept.Limits.MostReworks
            )
        );
        Assert.Empty(kept.Limits.Check());
    }

    [Fact]
    public async Task Overshoot_OfTheWorkshop_IsWhatAMaterialIsComparedWith()
    {
        await using var bench = await BenchShop.OpenAsync(1);
        await LimitAsync(bench, l => l with { OvershootKelvin = 35 });
        var quote = (await JudgedAsync(bench)).Quote;
        Assert.Contains(quote.Why!.Inputs, i => i is { Name: "overshoot", Value: 35 });
    }

    // 1040 × 640 pixels on 104 × 64 mm: 254 to the inch.
    [Theory]
    [InlineData(100, 400, PictureVerdict.Good)]
    [InlineData(300, 400, PictureVerdict.Poor)]
    [InlineData(100, 150, PictureVerdict.Poor)]
    public async Task Pictures_AreJudgedByTheWorkshopsFloorAndDistance(int floor, int distance, PictureVerdict verdict)
    {
        await using var bench = await BenchShop.OpenAsync(1);
        await LimitAsync(bench, l => l with { FloorPpi = floor, ViewedFromMillimetres = distance, SafeMarginMillimetres = 5 });
        var rules = (await bench.Shop.Get<CounterChoicesView>().RunAsync()).Print;
        var line = new LineEntry
        {
            Width = "100",
            Height = "60",
            Thickness = "1",
            Text = "Anna",
            Picture = new PictureEntry(new(Guid.CreateVersion7()), 1040, 640, "p.png"),
        };
        Assert.Equal(verdict, LaidPicture.Of(line, LengthUnit.Millimetre, rules)!.Resolution.Value.Verdict);
        Assert.Equal(verdict == PictureVerdict.Poor, PrintDoubts.Of(line, LengthUnit.Millimetre, rules).Coarse is not null);
        var (own, usual) = (
            SeenText.Of(line, LengthUnit.Millimetre, 100, 60, rules),
            SeenText.Of(line, LengthUnit.Millimetre, 100, 60, new PrintRules(2))
        );
        Assert.Equal((5, 3, 2), (own.Safe, usual.Safe, Math.Round(usual.Y - own.Y, 6)));
    }

    [Theory]
    [InlineData(0, 0)]
    [InlineData(1, 1)]
    [InlineData(3, 3)]
    public async Task Rework_AsOftenAsTheWorkshopAllows_IsRefusedFromThenOn(int most, int done)
    {
        await using var bench = await BenchShop.OpenAsync(1, own: true);
        await LimitAsync(bench, l => l with { MostReworks = most });
        BenchShop.Must(await bench.ReceiveAsync());
        var times = 0;
        while (true)
        {
            BenchShop.Must(await bench.FinishAsync(1));
            var back = new FaultReport(new Target(bench.Code), "run", "", new TimeDecision(TimeChoice.Rework, "dust in it", 1));
            var answer = await bench.Shop.Get<ReportFault>().RunAsync(bench.Ask(), back);
            if (!answer.IsOk)
            {
                Assert.Equal("rework-limit", BenchShop.Code0(answer));
                break;
            }
            times++;
        }
        Assert.Equal(done, times);
    }

    /// <summary>The look of a finish is that of as many coats as its recipe has.</summary>
    [Fact]
    public async Task Look_OfARecipeWithTwoMattCoats_IsMoreMatt()
    {
        await using var bench = await BenchShop.OpenAsync(1);
        async Task<(int Coats, double Black)> LookAsync()
        {
            var choices = await bench.Shop.Get<CounterChoicesView>().RunAsync();
            var (coats, material) = (choices.Coats, choices.Material("al"));
            return (coats.Of(Finish.VelvetMatt, material), coats.Look(Finish.VelvetMatt, material).Reflectance(new LinearRgb(0, 0, 0)).G);
        }
        var before = await LookAsync();
        var recipe = (await bench.Shop.Get<RecipeListView>().LoadAsync()).First(r => r.Finish == Finish.VelvetMatt);
        var at = recipe.Steps.ToList().FindLastIndex(s => s.Coating == CoatingKind.Matt);
        List<RecipeStep> steps = [.. recipe.Steps.Take(at + 2), .. recipe.Steps.Skip(at)];
        var owner = await bench.Shop.WorkerAsync(WorkerRole.Owner);
        bench.Wait(5);
        var changed = await bench
            .Shop.Get<ChangeRecipe>()
            .RunAsync(Asked.By(owner), new RecipeInput(recipe.Id, [.. steps.Select((s, i) => s with { Number = i + 1 })]));
        Assert.True(changed.IsOk, string.Join(' ', changed.Refusals.Select(r => r.Text)));
        bench.Wait(5);
        var after = await LookAsync();
        Assert.Equal(before.Coats + 1, after.Coats);
        Assert.True(after.Black > before.Black);
    }

    /// <summary>Under a press whose heat passes poorly a piece thicker than the reference needs longer.</summary>
    [Fact]
    public async Task Press_BuiltOtherwise_TakesItsOwnTime()
    {
        await using var bench = await BenchShop.OpenAsync(1);
        async Task<int> PressedAsync() => (await JudgedAsync(bench)).Steps.First(s => s.Kind == StepKind.Press).MinSeconds;
        var before = await PressedAsync();
        var owner = await bench.Shop.WorkerAsync(WorkerRole.Owner);
        var row = (await bench.Shop.Get<StationListView>().LoadAsync()).First(s => s.Settings is PressSettings { Wraps: false });
        async Task<Result<Done>> ContactAsync(decimal contact)
        {
            var settings = (PressSettings)row.Settings with { ContactWM2K = contact };
            return await bench
                .Shop.Get<ChangeStation>()
                .RunAsync(Asked.By(owner), new StationInput(row.Id, row.Version, row.Name, settings, null, true));
        }
        Assert.Equal("contact", Assert.Single((await ContactAsync(49)).Refusals).Field);
        Assert.True((await ContactAsync(400)).IsOk);
        Assert.True(await PressedAsync() > before);
    }

    private static async Task<JudgedLine> JudgedAsync(BenchShop bench)
    {
        await using var context = await bench.Shop.ContextAsync();
        var facts = await ShopFacts.LoadAsync(context, bench.Shop.Clock.GetUtcNow(), default);
        var piece = new PieceDescription
        {
            Material = "al",
            Width = Length.FromMillimetres(100),
            Height = Length.FromMillimetres(60),
            Thickness = Length.FromMillimetres(6),
        };
        return JudgeLine.Of(
            new LineInput
            {
                Quantity = 1,
                Finish = Finish.WhiteGround,
                Piece = piece,
            },
            facts,
            false,
            null
        );
    }

    private static async Task LimitAsync(BenchShop bench, Func<WorkLimits, WorkLimits> change)
    {
        var owner = await bench.Shop.WorkerAsync(WorkerRole.Owner);
        var profile = (await bench.Shop.Get<SettingsView>().LoadAsync()).Profile with { Name = "Test", Country = "DE" };
        var kept = await bench.Shop.Get<ChangeProfile>().RunAsync(Asked.By(owner), profile with { Limits = change(profile.Limits) });
        Assert.True(kept.IsOk, string.Join(' ', kept.Refusals.Select(r => r.Text)));
    }
}

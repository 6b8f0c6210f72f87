using ShopFloor.Data;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Planning.Checking;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Office.Stations;
using ShopFloor.Web.Tests.Support;
using Form = ShopFloor.Domain.Materials.Form;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>A flask or a cup that a customer brings: the wrap press alone takes it, one at a time.</summary>
public sealed class RoundPieceTests
{
    private static readonly PieceDescription Cup = new()
    {
        Material = "ss",
        Form = Form.Cylinder,
        Width = Mm(200),
        Height = Mm(85),
        Thickness = Mm(80),
        Wall = Mm(0.8m),
        IsOwn = true,
        Hidden = HiddenParts.None,
    };

    [Fact]
    public async Task Judge_ARoundPiece_IsRefusedUntilThereIsAWrapPressThatTakesIt()
    {
        await using var shop = await BenchShop.OpenAsync(1);
        Assert.Contains("needs a wrap press", (await JudgeAsync(shop, Cup)).VerdictText, StringComparison.Ordinal);
        await WrapPressAsync(shop.Shop);
        Assert.NotNull((await JudgeAsync(shop, Cup)).Price);
        Assert.Contains(
            "70 to 95 mm across",
            (await JudgeAsync(shop, Cup with { Thickness = Mm(60), Width = Mm(150) })).VerdictText,
            StringComparison.Ordinal
        );
        Assert.Contains(
            "round pieces of at most",
            (await JudgeAsync(shop, Cup with { Height = Mm(120) })).VerdictText,
            StringComparison.Ordinal
        );
        var wide = Assert.Single((await JudgeAsync(shop, Cup with { Width = Mm(260) })).Faults);
        Assert.Equal(("width", "Once round this piece is 251 mm: the picture cannot be wider."), (wide.Field, wide.Text));
        Assert.Equal("face", Assert.Single((await JudgeAsync(shop, Cup with { Face = FaceShape.Disc })).Faults).Field);
    }

    [Fact]
    public async Task Plan_CupsAndPlates_GoToThePressOfTheirFormAndTheBenchFollows()
    {
        await using var shop = await BenchShop.OpenAsync(2, before: WrapPressAsync);
        await shop.BookAsync(2, true, Finish.WhiteGround, "ss", form: Cup);
        BenchShop.Must(await shop.ReceiveAsync());
        foreach (var cup in await CupsAsync(shop))
            BenchShop.Must(await shop.Shop.Get<ReceivePieces>().RunAsync(shop.Ask(), new Target(cup.Code)));
        await using var context = await shop.Shop.ContextAsync();
        var day = DayFromShop.Make(await ShopSnapshot.ReadAsync(context, shop.Shop.Clock.GetUtcNow(), CancellationToken.None));
        var plan = DayPlanner.First(day);
        Assert.Empty(PlanChecker.Check(day, plan));
        Assert.Empty(plan.LeftOut);
        var press = plan
            .Tasks.Where(t => t.Kind == Planning.Exchange.TaskKinds.Press)
            .GroupBy(t => t.Station)
            .ToDictionary(g => g.Key!, g => g.Count());
        Assert.Equal(2, press["press-2"]);

        foreach (var cup in await CupsAsync(shop))
            await shop.WorkToAsync(StepKind.Press, cup.Code);
        var pieces = await CupsAsync(shop);
        var step = pieces[0].NextAttended!;
        Assert.Equal((150, 240), (step.Settings.MinSeconds, step.Settings.MaxSeconds));
        var build = shop.Shop.Get<BuildBatch>();
        Assert.Equal("no-room", BenchShop.Code0(await build.RunAsync(shop.Ask(), new BatchWish([.. pieces.Select(p => p.Code)]))));
        Assert.Equal("press-form", BenchShop.Code0(await build.RunAsync(shop.Ask(), new BatchWish([pieces[0].Code], Station: "press-1"))));
        var begun = BenchShop.Must(
            await shop.Shop.Get<StartStep>().RunAsync(shop.Ask(), new StartWish(new Target(pieces[0].Code, step.Number), IsHot: true))
        );
        var batch = context.Batches.Single(b => b.Code == begun.Batch);
        Assert.Equal("press-2", context.Stations.Single(s => s.Id == batch.Station).Code);
        Assert.Equal(WrapFit.LayUp, batch.Settings.LayUp);
    }

    [Fact]
    public async Task Press_APlate_IsNotTakenByTheWrapPress()
    {
        await using var shop = await BenchShop.OpenAsync(1, before: WrapPressAsync);
        await shop.WorkToAsync(StepKind.Press);
        var wish = new BatchWish([shop.Code], Station: "press-2");
        Assert.Equal("press-form", BenchShop.Code0(await shop.Shop.Get<BuildBatch>().RunAsync(shop.Ask(), wish)));
        BenchShop.Must(await shop.StartAsync((await shop.PieceAsync(shop.Code)).NextAttended!.Number));
    }

    [Theory]
    [InlineData("press-2", true)]
    [InlineData("press-1", false)]
    public async Task Judge_APieceThatThePressOfItsFormIsTooColdFor_IsRefusedAndTheOtherIsNot(string cold, bool cup)
    {
        await using var shop = await BenchShop.OpenAsync(1, before: WrapPressAsync);
        await using (var context = await shop.Shop.ContextAsync())
        {
            var press = context.Stations.Single(s => s.Code == cold);
            Assert.True(press.Change(press.Name, (PressSettings)press.Settings with { HighestCelsius = 120 }).IsOk);
            await context.SaveChangesAsync();
        }
        var plate = new PieceDescription
        {
            Material = "al",
            Width = Mm(100),
            Height = Mm(60),
            Thickness = Mm(1),
        };
        var (too, fits) = cup ? (Cup, plate) : (plate, Cup);
        Assert.Contains("do not reach the heat", (await JudgeAsync(shop, too)).VerdictText, StringComparison.Ordinal);
        Assert.DoesNotContain("do not reach the heat", (await JudgeAsync(shop, fits)).VerdictText, StringComparison.Ordinal);
    }

    private static async Task<IReadOnlyList<Piece>> CupsAsync(BenchShop shop) => [.. (await shop.PiecesAsync()).Where(p => p.IsOwn)];

    private static async Task<LineQuote> JudgeAsync(BenchShop shop, PieceDescription piece)
    {
        await using var context = await shop.Shop.ContextAsync();
        var facts = await ShopFacts.LoadAsync(context, shop.Shop.Clock.GetUtcNow(), default);
        var line = new LineInput
        {
            Quantity = 1,
            Finish = Finish.WhiteGround,
            Piece = piece,
        };
        return JudgeLine.Of(line, facts, false, null).Quote;
    }

    private static Task WrapPressAsync(BenchShop shop) => WrapPressAsync(shop.Shop);

    private static async Task WrapPressAsync(TestShop shop)
    {
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var added = await shop.Get<AddStation>().RunAsync(Asked.By(owner), new NewStation(StationKind.Press, "Cup press", true));
        Assert.Equal("press-2", added.Value);
        var row = (await shop.Get<StationListView>().LoadAsync()).Single(s => s.Code == "press-2");
        Assert.Equal("Wrap press", StationNames.Kind(row));
        var form = new StationForm(row) { InUse = true };
        Assert.Equal(["thinnest", "widest", "tallest"], form.Numbers.Fields.Take(3).Select(f => f.Name));
        Assert.True((await shop.Get<ChangeStation>().RunAsync(Asked.By(owner), form.Read(shop.Clock.GetUtcNow()).Value)).IsOk);
    }

    private static Length Mm(decimal millimetres) => Length.FromMillimetres(millimetres);
}

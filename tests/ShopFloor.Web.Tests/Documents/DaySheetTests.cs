using System.Text;
using ShopFloor.Documents.Tests.Pdf;
using ShopFloor.Domain.Recipes;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Documents;
using ShopFloor.Web.Tests.Bench;

namespace ShopFloor.Web.Tests.Documents;

/// <summary>The plan of a day on paper, for when the screens are dark.</summary>
public sealed class DaySheetTests
{
    [Fact]
    public async Task Day_SameStepOnPieceAfterPiece_IsOneLineWithAllPiecesAndTheWholeSpan()
    {
        await using var bench = await BenchShop.OpenAsync(5, own: true);
        await bench.BookAsync(1, own: true, Finish.ShowThrough, "al");
        foreach (var piece in await bench.PiecesAsync())
            BenchShop.Must(await bench.Shop.Get<ReceivePieces>().RunAsync(bench.Ask(), new Target(piece.Code)));
        var plan = await PublishAsync(bench);
        var cleans = plan.Plan.Tasks.Where(t => t.Kind == "clean").OrderBy(t => t.StartS).ToList();
        Assert.Equal(6, cleans.Count);

        var made = await bench.Shop.Get<PaperView>().MakeAsync(new PaperWish(PaperKind.Day, PaperWish.Today), "http://shop.example/");
        var pdf = made.Value.Paper.ToBytes();
        var lines = Poppler.Words(pdf, "-layout").Split('\n');

        var clean = Assert.Single(lines, l => l.Contains("Clean", StringComparison.Ordinal));
        Assert.StartsWith(Clock(plan, cleans[0].StartS), clean.Trim(), StringComparison.Ordinal);
        Assert.Contains(Clock(plan, cleans[^1].EndS!.Value), clean, StringComparison.Ordinal);
        var words = Poppler.Words(pdf);
        Assert.All(cleans, t => Assert.Contains(t.Piece!, words, StringComparison.Ordinal));
        // Two people inspect side by side: a line for each of them, and not one for each piece.
        var inspecting = plan.Plan.Tasks.Where(t => t.Kind == "inspect").Select(t => t.Person).Distinct().Count();
        Assert.Equal(inspecting, lines.Count(l => l.Contains("Inspect, pack", StringComparison.Ordinal)));
        Assert.Matches(@"Tagged:\s+yes", Poppler.Info(pdf));
    }

    private static string Clock(ReadPlan plan, int second) =>
        TimeZoneInfo
            .ConvertTime(plan.Instant(second), TimeZoneInfo.FindSystemTimeZoneById("Europe/Berlin"))
            .ToString("HH:mm", CultureInfo.InvariantCulture);

    private static async Task<ReadPlan> PublishAsync(BenchShop bench)
    {
        await using var context = await bench.Shop.ContextAsync();
        var snapshot = await ShopSnapshot.ReadAsync(context, bench.Shop.Clock.GetUtcNow(), CancellationToken.None);
        var day = DayWriter.Write(DayFromShop.Make(snapshot));
        var plan = DayPlanner.First(DayFromShop.Make(snapshot), Fingerprint.Sha256(day));
        var input = new PlanInput(
            snapshot.Now,
            snapshot.Journal,
            Encoding.UTF8.GetString(day),
            Encoding.UTF8.GetString(PlanWriter.Write(plan)),
            "test"
        );
        Assert.True((await bench.Shop.Get<PublishPlan>().RunAsync(Asked.BySystem(), input)).IsOk);
        return (await bench.Shop.Get<PlanShelf>().LatestAsync())!;
    }
}

using System.Text;
using Bunit;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Documents.Tests.Pdf;
using ShopFloor.Domain.Recipes;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Documents;
using ShopFloor.Web.Office.Plans;
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
        // Two people inspect side by side: some lines for each of them, and not one for each piece.
        Assert.InRange(lines.Count(l => l.Contains("Inspect", StringComparison.Ordinal)), 1, 4);
        Assert.Matches(@"Clean, \w+", clean);
        Assert.Matches(@"Tagged:\s+yes", Poppler.Info(pdf));
    }

    /// <summary>On the day the net is down nobody can look up what a station shows for a temperature, or which coating is in a can.</summary>
    [Fact]
    public async Task Day_Settings_AreWhatToSetAndWhatToTake()
    {
        await using var bench = await BenchShop.OpenAsync(3, own: true);
        BenchShop.Must(await bench.ReceiveAsync());
        var plan = await PublishAsync(bench);
        var oven = plan.Day.Stations.OfType<HeatedStation>().First(s => s.Heat.ErrorTenthsC != 0);
        var load = plan.Plan.Batches.First(b => b.TenthsC is not null && plan.OfBatch[b.Id].Any(t => t.Station == oven.Id));
        var (real, dial) = (PlanWords.Degrees(load.TenthsC!.Value), PlanWords.Degrees(load.TenthsC.Value + oven.Heat.ErrorTenthsC));
        var change = plan.Plan.Tasks.First(t => t.Kind == TaskKinds.SetPoint && t.Station == oven.Id && t.ToTenthsC == load.TenthsC);
        Assert.Equal($"To {dial} on the dial", new PlanWords(new Dictionary<string, string>()).Task(plan.Day, change));

        var made = await bench.Shop.Get<PaperView>().MakeAsync(new PaperWish(PaperKind.Day, PaperWish.Today), "http://shop.example/");
        var words = Poppler.Words(made.Value.Paper.ToBytes()).ReplaceLineEndings(" ");
        Assert.Contains($"dial {dial} (true {real})", words, StringComparison.Ordinal);
        Assert.Contains("Set the dial", words, StringComparison.Ordinal);
        Assert.Matches(@"Bake \w", words);
        Assert.DoesNotMatch("Dwell|Set point", words);
        Assert.Matches(@"White base, [\d.]+ ml in all, C-\d+", words);
    }

    /// <summary>What a round saves is told where it is planned: on the sheet of the day and in the Office, with the same numbers.</summary>
    [Fact]
    public async Task Day_RoundsOfSeveralPieces_SayWhatLyingSideBySideSaves()
    {
        await using var bench = await BenchShop.OpenAsync(4);
        BenchShop.Must(await bench.ReceiveAsync());
        await PublishAsync(bench);
        var plan = (await bench.Shop.Get<TimelineView>().LoadAsync(0))!;
        var round = plan.Rounds.First(r => r.Pieces > 1);
        Assert.True(round.Use is { SavedMillilitres: > 0 } && round.Use.Value.AloneMillilitres == (double)round.AloneMl);

        var made = await bench.Shop.Get<PaperView>().MakeAsync(new PaperWish(PaperKind.Day, PaperWish.Today), "http://shop.example/");
        var words = Poppler.Words(made.Value.Paper.ToBytes()).ReplaceLineEndings(" ");
        var saved = round.Use.Value.SavedMillilitres.ToString("0.#", CultureInfo.InvariantCulture);
        Assert.Contains($"laid side by side {saved} ml less than one by one", words, StringComparison.Ordinal);

        await using var page = new BunitContext();
        page.Services.AddLocalization();
        var table = page.Render<RoundTable>(p => p.Add(t => t.Plan, plan));
        double[] cells = [(double)round.AloneMl, round.Use.Value.Millilitres, round.Use.Value.SavedMillilitres];
        var row = table.FindAll("tbody tr")[plan.Rounds.ToList().IndexOf(round)];
        Assert.Equal(
            cells.Select(c => $"{c.ToString("0.#", CultureInfo.CurrentCulture)} ml"),
            row.QuerySelectorAll(".figure").Skip(1).Select(c => c.TextContent)
        );
    }

    [Fact]
    public async Task Day_PrintedFromAGermanScreen_IsGerman()
    {
        await using var bench = await BenchShop.OpenAsync(3, own: true);
        BenchShop.Must(await bench.ReceiveAsync());
        var plan = await PublishAsync(bench);
        var before = CultureInfo.CurrentUICulture;
        CultureInfo.CurrentUICulture = CultureInfo.GetCultureInfo("de");
        try
        {
            var made = await bench.Shop.Get<PaperView>().MakeAsync(new PaperWish(PaperKind.Day, PaperWish.Today), "http://shop.example/");
            var words = Poppler.Words(made.Value.Paper.ToBytes()).ReplaceLineEndings(" ");
            string[] german =
            [
                "von",
                "bis",
                "Stücke",
                "Einstellung",
                "Stand ",
                "Seite 1 von",
                "Reinigen",
                "Regler ",
                "ml insgesamt",
                "Auftrag ",
            ];
            foreach (var word in german)
                Assert.Contains(word, words, StringComparison.Ordinal);
            // Names of stations stand as the workshop calls them.
            string[] english =
            [
                "from",
                "settings",
                "As of",
                "dial",
                "in all",
                "order ",
                "page ",
                "Clean",
                "Wipe",
                "Inspect",
                "Pack",
                "Cure",
            ];
            Assert.All(english, word => Assert.DoesNotMatch($@"(?<!\w){word}(?!\w)", words));
        }
        finally
        {
            CultureInfo.CurrentUICulture = before;
        }
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

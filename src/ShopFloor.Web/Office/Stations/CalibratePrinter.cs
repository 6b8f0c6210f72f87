using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Documents.Sheets;
using ShopFloor.Domain;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Documents;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Office.Stations;

/// <summary>What was measured on a printer's calibration page.</summary>
/// <param name="Station">Code of the printer.</param>
/// <param name="SeenVersion">The version that the page was printed with.</param>
/// <param name="Paper">Name of the paper it was printed on.</param>
/// <param name="AcrossMm">Measured across, mm.</param>
/// <param name="AlongMm">Measured along the feed, mm.</param>
public sealed record Measured(string Station, int SeenVersion, string Paper, decimal AcrossMm, decimal AlongMm);

/// <summary>Corrects a printer's scale in both axes from the lengths on its calibration page; every print sheet uses it from then on.</summary>
public sealed class CalibratePrinter(CommandRunner runner) : IUseCase
{
    /// <summary>The word in the audit list.</summary>
    public const string What = "printer calibrated";

    /// <summary>Changes it.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, Measured measured, CancellationToken cancel = default) =>
        runner.RunAsync<Measured, Done>(
            nameof(CalibratePrinter),
            Allowed.Owner,
            asked,
            measured,
            work => DecideAsync(work, measured, cancel),
            cancel
        );

    private static async Task<Result<Done>> DecideAsync(CommandWork work, Measured measured, CancellationToken cancel)
    {
        var station = await work.Context.Stations.FirstOrDefaultAsync(s => s.Code == measured.Station, cancel);
        if (station?.Settings is not PrinterSettings before)
            return new Refusal("station-missing", "This printer is no longer there.");
        if (CommandWork.IfChanged(measured.SeenVersion, station.Version, station.Name) is { } changed)
            return changed;
        var corrected = Corrected(station, before, measured);
        if (!corrected.IsOk)
            return Result<Done>.Refused(corrected.Refusals);
        var done = station.Change(station.Name, corrected.Value);
        if (!done.IsOk)
            return done;
        work.Audit(What, station.Code, Scales(before), Scales(corrected.Value));
        work.Touch(Topic.Station, station.Id.Value);
        return default(Done);
    }

    private static Result<PrinterSettings> Corrected(Station station, PrinterSettings before, Measured measured)
    {
        if (PrinterPapers.Of(before).FirstOrDefault(p => p.Name == measured.Paper) is not { } paper)
            return new Refusal("paper-unknown", $"{station.Name} takes no paper called {measured.Paper}.", "paper");
        var facts = PrinterPapers.Facts(station, before);
        var (wide, high) = (CalibrationSheet.AcrossMm(paper, facts), CalibrationSheet.AlongMm(paper, facts));
        var across = PrinterFacts.CorrectionFrom(wide, (double)measured.AcrossMm, facts.CorrectionX, "across");
        var along = PrinterFacts.CorrectionFrom(high, (double)measured.AlongMm, facts.CorrectionY, "along");
        return across.IsOk && along.IsOk
            ? before with
            {
                ScaleX = (decimal)across.Value,
                ScaleY = (decimal)along.Value,
            }
            : Result<PrinterSettings>.Refused([.. across.Refusals, .. along.Refusals]);
    }

    private static string Scales(PrinterSettings settings) =>
        JsonSerializer.Serialize(new { settings.ScaleX, settings.ScaleY }, JsonForms.Default);
}

using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Documents.Sheets;
using ShopFloor.Domain;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Documents;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Stations;

/// <summary>A paper and how long the two arrows of its calibration page should be.</summary>
public sealed record CalibrationPaper(string Name, double AcrossMm, double AlongMm);

/// <summary>A printer before it is measured.</summary>
/// <param name="Code">Its code.</param>
/// <param name="Name">Its name.</param>
/// <param name="Version">Version of its settings.</param>
/// <param name="ScaleX">Correction across now.</param>
/// <param name="ScaleY">Correction along now.</param>
/// <param name="Papers">Its papers.</param>
/// <param name="Last">When it was measured last, shop-local; null when never.</param>
public sealed record CalibrationState(
    string Code,
    string Name,
    int Version,
    decimal ScaleX,
    decimal ScaleY,
    IReadOnlyList<CalibrationPaper> Papers,
    DateTime? Last
);

/// <summary>Reads what the calibration form shows.</summary>
public sealed class CalibrationView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>The printer; null when there is none of that code.</summary>
    public async Task<CalibrationState?> LoadAsync(string code, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var station = await context.Stations.AsNoTracking().FirstOrDefaultAsync(s => s.Code == code, cancel);
        if (station?.Settings is not PrinterSettings settings)
            return null;
        var shop = await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel);
        var times = await context
            .Audit.Where(a => a.What == CalibratePrinter.What && a.Subject == code)
            .Select(a => a.At)
            .ToListAsync(cancel);
        var facts = PrinterPapers.Facts(station, settings);
        return new CalibrationState(
            code,
            station.Name,
            station.Version,
            settings.ScaleX,
            settings.ScaleY,
            [
                .. PrinterPapers
                    .Of(settings)
                    .Select(p => new CalibrationPaper(p.Name, CalibrationSheet.AcrossMm(p, facts), CalibrationSheet.AlongMm(p, facts))),
            ],
            times.Count == 0 ? null : TimeZoneInfo.ConvertTime(times.Max(), shop.Zone).DateTime
        );
    }
}

/// <summary>What is typed into the calibration form.</summary>
public sealed class CalibrationForm
{
    /// <summary>Name of the paper.</summary>
    public string Paper { get; set; } = "";

    /// <summary>Measured across, mm.</summary>
    public string Across { get; set; } = "";

    /// <summary>Measured along, mm.</summary>
    public string Along { get; set; } = "";

    /// <summary>What somebody else changed before this could be saved.</summary>
    public IReadOnlyList<ChangedField> Meanwhile { get; private init; } = [];

    /// <summary>
    /// This form on the printer as somebody else left it. The lengths stay while the page that was measured would be printed the same now; where its
    /// scale is another they say nothing any more, and the page is printed anew.
    /// </summary>
    public CalibrationForm Follow(CalibrationState before, CalibrationState now)
    {
        var meanwhile = new Meanwhile();
        static string Times(decimal scale) => $"× {scale.ToString("0.#####", CultureInfo.CurrentCulture)}";
        meanwhile.Take("Correction across", before.ScaleX, before.ScaleX, now.ScaleX, Times);
        meanwhile.Take("Correction along the feed", before.ScaleY, before.ScaleY, now.ScaleY, Times);
        var isAsPrinted =
            meanwhile.Fields.Count == 0
            && before.Papers.FirstOrDefault(p => p.Name == Paper) is { } paper
            && now.Papers.FirstOrDefault(p => p.Name == Paper) == paper;
        return isAsPrinted
            ? new CalibrationForm
            {
                Paper = Paper,
                Across = Across,
                Along = Along,
            }
            : new CalibrationForm
            {
                Paper = now.Papers.Any(p => p.Name == Paper) ? Paper : now.Papers.FirstOrDefault()?.Name ?? "",
                Meanwhile = meanwhile.Fields,
                IsToPrintAnew = true,
            };
    }

    /// <summary>What was measured is no longer what would be printed.</summary>
    public bool IsToPrintAnew { get; private init; }

    /// <summary>What to save, or every field that cannot be read.</summary>
    public Result<Measured> Read(CalibrationState printer)
    {
        var (across, along) = (NumberText.Read(Across, "across"), NumberText.Read(Along, "along"));
        return across.IsOk && along.IsOk
            ? new Measured(printer.Code, printer.Version, Paper, across.Value, along.Value)
            : Result<Measured>.Refused([.. across.Refusals, .. along.Refusals]);
    }
}

using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Documents.Imaging;
using ShopFloor.Documents.Pdf;
using ShopFloor.Documents.Sheets;
using ShopFloor.Domain;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Pictures;

namespace ShopFloor.Web.Documents;

/// <summary>Makes a paper from what is in the database now. Reading and drawing only; <see cref="PrintPaper"/> writes down that it was printed.</summary>
public sealed class PaperView(
    IDbContextFactory<ShopContext> contexts,
    TimeProvider time,
    PlanShelf plans,
    PictureFolder files,
    PictureDoor door
) : IPageView
{
    /// <summary>On a paper that was never printed.</summary>
    private const string NoNumber = "preview";

    /// <summary>The PDF, or why there is none.</summary>
    public async Task<Result<MadePaper>> MakeAsync(PaperWish wish, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var work = await OpenWork.LoadAsync(context, time.GetUtcNow(), null, cancel);
        var name = wish.Name;
        var number = await context
            .Audit.Where(a => a.What == PrintPaper.What && a.Subject == name)
            .Select(a => a.After)
            .FirstOrDefaultAsync(cancel);
        if (wish.Kind == PaperKind.Sheets)
            return new TransferPapers(files, door).Make(work, wish, number ?? NoNumber);
        var paper = wish.Kind switch
        {
            PaperKind.Labels => LabelPapers.Make(work, wish),
            PaperKind.Card => CardPapers.Make(work, wish),
            PaperKind.Day => DayPapers.Make(work, await plans.LatestAsync(cancel)),
            _ => Calibration(work, wish),
        };
        return paper.Then<MadePaper>(p => new MadePaper(p.ToBytes(), []));
    }

    private static Result<PdfPaper> Calibration(OpenWork work, PaperWish wish)
    {
        var printer = work.Stations.Values.FirstOrDefault(s => s.Kind == StationKind.Printer && s.Code == wish.Subject);
        if (printer?.Settings is not PrinterSettings settings)
            return new Refusal("paper-nothing", $"There is no printer {wish.Subject}.");
        var paper = IsoPaper.Names.Contains(settings.Paper) ? settings.Paper : "A4";
        return CalibrationSheet.Draw(PaperStock.Iso(paper), TransferPapers.PrinterOf(printer), work.Now.UtcDateTime);
    }
}

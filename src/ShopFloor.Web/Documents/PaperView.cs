using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Documents.Imaging;
using ShopFloor.Documents.Pdf;
using ShopFloor.Documents.Sheets;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Counter.Secrets;
using ShopFloor.Web.Shared;

namespace ShopFloor.Web.Documents;

/// <summary>Makes a paper from what is in the database now. Reading and drawing only; <see cref="PrintPaper"/> writes down that it was printed.</summary>
public sealed class PaperView(
    IDbContextFactory<ShopContext> contexts,
    TimeProvider time,
    PlanShelf plans,
    PictureFolder files,
    PictureDoor door,
    Spoken said
) : IPageView
{
    /// <summary>On a paper that was never printed.</summary>
    private const string NoNumber = "preview";

    /// <summary>The PDF, or why there is none.</summary>
    /// <param name="asked">Which.</param>
    /// <param name="host">Address of this site as it was asked for; codes lead there unless the owner set a public address.</param>
    /// <param name="cancel">Stops it.</param>
    public async Task<Result<MadePaper>> MakeAsync(PaperWish asked, string host, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var work = await OpenWork.LoadAsync(context, time.GetUtcNow(), null, cancel);
        var wish = asked.On(work.Settings.Day(work.Now));
        var name = wish.Name;
        var number = await context
            .Audit.Where(a => a.What == PrintPaper.What && a.Subject == name)
            .Select(a => a.After)
            .FirstOrDefaultAsync(cancel);
        var plan = wish.Kind is PaperKind.Sheets or PaperKind.Day ? await plans.LatestAsync(cancel) : null;
        if (wish.Kind == PaperKind.Sheets)
        {
            var (kept, gone) = (await StockPapers.NamesAsync(context, cancel), await GoneAsync(context, work, cancel));
            return new TransferPapers(files, door, kept, gone).Make(work, wish, plan, number ?? NoNumber);
        }
        var address = PublicAddress.Of(work.Settings.Profile.PublicAddress, host);
        var paper = wish.Kind switch
        {
            PaperKind.Labels => LabelPapers.Make(work, wish, address),
            PaperKind.Card => CardPapers.Make(work, wish, address),
            PaperKind.Day => new DayPapers(work, await PlanWords.LoadAsync(context, cancel), said).Make(wish, plan),
            _ => Calibration(work, wish),
        };
        return paper.Then<MadePaper>(p => new MadePaper(wish, p));
    }

    /// <summary>What is with the customer of lines in work whose pieces have a text each.</summary>
    private static Task<List<Piece>> GoneAsync(ShopContext context, OpenWork work, CancellationToken cancel)
    {
        var lines = work.Orders.Values.SelectMany(o => o.Lines.Values).Where(l => l.Texts.Count > 1).Select(l => l.Id).ToList();
        return context.Pieces.AsNoTracking().Where(p => p.State == PieceState.HandedOver && lines.Contains(p.Line)).ToListAsync(cancel);
    }

    private static Result<PdfPaper> Calibration(OpenWork work, PaperWish wish)
    {
        var printer = work.Stations.Values.FirstOrDefault(s => s.Kind == StationKind.Printer && s.Code == wish.Subject);
        if (printer?.Settings is not PrinterSettings settings)
            return new Refusal("paper-nothing", $"There is no printer {wish.Subject}.");
        var papers = PrinterPapers.Of(settings);
        var paper = papers.FirstOrDefault(p => p.Name == wish.Form) ?? papers[0];
        return CalibrationSheet.Draw(paper, PrinterPapers.Facts(printer, settings), work.Now.UtcDateTime);
    }
}

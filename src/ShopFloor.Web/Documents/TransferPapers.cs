using ShopFloor.Documents.Imaging;
using ShopFloor.Documents.Pdf;
using ShopFloor.Documents.Sheets;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pictures;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Counter.Pictures;

namespace ShopFloor.Web.Documents;

/// <summary>Print sheets of a press session or of an order's open pieces.</summary>
internal sealed class TransferPapers(PictureFolder files, PictureDoor door)
{
    /// <summary>Rim that desk printers leave free (common practice, no source).</summary>
    private const double RimMm = 5;

    /// <summary>The sheets, and the transfer paper they take.</summary>
    public Result<MadePaper> Make(OpenWork work, PaperWish wish, string number)
    {
        var batch = work.Batches.FirstOrDefault(b => b.Code == wish.Subject);
        var pieces = batch is null
            ? [.. work.Pieces.Where(p => work.Orders[p.Order].Number.ToString(CultureInfo.InvariantCulture) == wish.Subject)]
            : work.MembersOf(batch).ToList();
        if (pieces.Count == 0)
            return new Refusal("paper-nothing", $"There is no press session and no order {wish.Subject} with open pieces.");
        var pictures = new Dictionary<PictureId, PdfPicture>();
        var transfers = pieces.Select(p => TransferOf(work, p, batch?.Code ?? "", pictures)).ToList();
        var refusals = transfers.SelectMany(t => t.Refusals).ToList();
        if (refusals.Count > 0)
            return Result<MadePaper>.Refused(refusals);
        var local = TimeZoneInfo.ConvertTime(work.Now, work.Settings.Zone);
        var label = new RunLabel(
            batch is null ? $"Order {wish.Subject}" : "Press session",
            number,
            local.ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture),
            work.Now.UtcDateTime
        );
        return new PrintRunPlanner(PlannerNest.Run)
            .Plan([.. transfers.Select(t => t.Value)], Request(work, wish.Form))
            .Then<MadePaper>(run => new MadePaper(PrintSheets.Draw(run, label).ToBytes(), Sheets(run)));
    }

    private static IReadOnlyList<PaperSheets> Sheets(PrintRun run) =>
        [.. run.Sheets.GroupBy(s => s.Paper.Name, StringComparer.Ordinal).Select(g => new PaperSheets(g.Key, g.Count()))];

    /// <summary>The first printer of the shop, and the papers it takes.</summary>
    public static PrinterFacts PrinterOf(Station? station) =>
        station?.Settings is PrinterSettings s
            ? new PrinterFacts(station.Name, InsetsMm.All(RimMm), (double)s.ScaleX, (double)s.ScaleY, s.DriverMirrors)
            : new PrinterFacts("printer", InsetsMm.All(RimMm));

    private static PrintRequest Request(OpenWork work, string form)
    {
        var printer = work.Stations.Values.OrderBy(s => s.Code, StringComparer.Ordinal).FirstOrDefault(s => s.Kind == StationKind.Printer);
        var paper = (printer?.Settings as PrinterSettings)?.Paper ?? "";
        string[] names =
            IsoPaper.Names.Contains(form) ? [form]
            : IsoPaper.Names.Contains(paper) ? [paper]
            : ["A4", "A3"];
        return new PrintRequest(PrinterOf(printer), [.. names.Select(PaperStock.Iso)]) { AllowTiles = form == "tiles" };
    }

    private Result<Transfer> TransferOf(OpenWork work, Piece piece, string group, Dictionary<PictureId, PdfPicture> pictures)
    {
        var line = work.LineOf(piece);
        var it = line.Piece;
        var face = new FaceOutline(
            it.Face,
            (double)it.Width.Millimetres,
            (double)it.BoxHeight.Millimetres,
            (double)it.Corner.Millimetres,
            it.Face == FaceShape.Ring ? (double)it.Hole.Millimetres : 0
        );
        var caption = $"{work.Orders[piece.Order].Number} · {piece.Number}/{line.Quantity} · {LabelPapers.Describe(work, line)}";
        var transfer = new Transfer(piece.Code, caption, face, (double)work.Settings.Profile.BleedMillimetres, line.Finish)
        {
            Group = group,
            Texts = Text(line, piece, face),
        };
        if (line.Picture is not { } id)
            return transfer;
        return PictureOf(id, piece, pictures).Then<Transfer>(picture => Laid(transfer, line.Placement, picture));
    }

    private Result<PdfPicture> PictureOf(PictureId id, Piece piece, Dictionary<PictureId, PdfPicture> pictures)
    {
        if (pictures.TryGetValue(id, out var known))
            return known;
        if (!files.Has(id))
            return new Refusal(
                "picture-missing",
                $"The picture of piece {piece.Code} is not in the picture folder any more. Ask for it again.",
                piece.Code
            );
        return door.Head(files.Clean(id)).Then<PdfPicture>(head => pictures[id] = PrintPicture.Of(head, () => files.Clean(id)));
    }

    private static Result<Transfer> Laid(Transfer transfer, PictureOnFace on, PdfPicture picture)
    {
        var box = transfer.Face.Box;
        var choice = on.Choice(picture.WidthPx, picture.HeightPx, box.Width, box.Height, transfer.BleedMm);
        return PicturePlacement
            .From(choice)
            .Then<Transfer>(placed => transfer with { Picture = new TransferPicture(picture, placed.PixelToFace) });
    }

    /// <summary>The text of the piece, laid as the customer saw it.</summary>
    private static IReadOnlyList<TransferText> Text(OrderLine line, Piece piece, FaceOutline face) =>
        line.Texts.Count == 0
            ? []
            :
            [
                FaceText.On(
                    face,
                    line.Texts[Math.Min(piece.Number, line.Texts.Count) - 1],
                    line.Picture is not null,
                    line.Placement.LightLetters
                ),
            ];
}

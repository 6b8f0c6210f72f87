using ShopFloor.Documents.Imaging;
using ShopFloor.Documents.Pdf;
using ShopFloor.Documents.Sheets;
using ShopFloor.Documents.Tests.Imaging;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Pictures;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Documents;

namespace ShopFloor.Documents.Tests.Sheets;

/// <summary>Transfers and runs for tests.</summary>
internal static class SheetSamples
{
    public static readonly PrinterFacts Printer = new("Desk printer", InsetsMm.All(5));

    public static readonly RunLabel Label = new(
        "Transfers for Monday",
        "T-0042",
        "2026-05-04 08:00",
        new DateTime(2026, 5, 4, 6, 0, 0, DateTimeKind.Utc)
    );

    public static PrintRequest On(params string[] papers) => new(Printer, [.. papers.Select(PaperStock.Iso)]);

    /// <summary>The four-cornered picture stretched over face and bleed.</summary>
    public static Transfer Of(
        string code,
        FaceOutline face,
        Finish finish = Finish.WhiteGround,
        PdfPicture? picture = null,
        double bleed = 2
    )
    {
        picture ??= PrintPicture.Of(TestPictures.Png());
        var (width, height) = (face.Box.Width + 2 * bleed, face.Box.Height + 2 * bleed);
        var toFace = new PlaneTransform(width / picture.WidthPx, 0, -bleed, 0, height / picture.HeightPx, -bleed);
        return new Transfer(code, "slate 80 × 120", face, bleed, finish) { Picture = new TransferPicture(picture, toFace) };
    }

    public static FaceOutline Plate(double width, double height) => new(FaceShape.Rectangle, width, height);

    public static PrintRun Plan(PrintRequest request, params Transfer[] transfers) =>
        new PrintRunPlanner(PlannerNest.Run).Plan(transfers, request).Value;

    /// <summary>One transfer a sheet, as it stands, in the upper left corner.</summary>
    public static PrintRun PlanUnturned(PrintRequest request, params Transfer[] transfers) =>
        new PrintRunPlanner(
            (boxes, _, _) => new Nesting([.. boxes.Select((_, i) => new NestedBox(i, i, 0, 0, Turned: false))], boxes.Count, boxes.Count)
        )
            .Plan(transfers, request)
            .Value;
}

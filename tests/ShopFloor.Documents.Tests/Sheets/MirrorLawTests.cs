using CsCheck;
using ShopFloor.Documents.Imaging;
using ShopFloor.Documents.Pdf;
using ShopFloor.Documents.Sheets;
using ShopFloor.Documents.Tests.Imaging;
using ShopFloor.Domain.Pictures;
using ShopFloor.Domain.Recipes;
using UglyToad.PdfPig;

namespace ShopFloor.Documents.Tests.Sheets;

/// <summary>What comes out of the printer, laid on the coat, shows the viewer the artwork, however it was laid and whatever the finish.</summary>
public sealed class MirrorLawTests
{
    private const double PointsPerMm = 72 / 25.4;
    private const int PixelsWide = 240;
    private const int PixelsHigh = 160;

    private static readonly Gen<PictureChoice> Choices =
        from face in Gen.Select(Gen.Double[30, 180], Gen.Double[30, 180])
        from fit in Gen.Enum<PictureFit>()
        from turn in Gen.Enum<QuarterTurn>()
        from crop in Gen.Select(Gen.Double[0, 0.4], Gen.Double[0, 0.4], Gen.Double[0.2, 0.6], Gen.Double[0.2, 0.6])
        from margins in Gen.Select(Gen.Double[0, 5], Gen.Double[0, 10])
        from shift in Gen.Select(Gen.Double[0, 1], Gen.Double[0, 1])
        select new PictureChoice(
            PixelsWide,
            PixelsHigh,
            face.Item1,
            face.Item2,
            fit,
            turn,
            new PictureCrop(crop.Item1, crop.Item2, crop.Item3, crop.Item4),
            margins.Item1,
            margins.Item2,
            shift.Item1,
            shift.Item2
        );

    [Fact]
    public void Draw_EveryFinish_TheViewerSeesTheArtwork()
    {
        var picture = PrintPicture.Of(TestPictures.Png(PixelsWide, PixelsHigh));
        Gen.Select(Choices, Gen.Enum<Finish>(), Gen.Double[0, 1], Gen.Double[0, 1])
            .Sample(
                (choice, finish, across, down) =>
                {
                    var placement = PicturePlacement.From(choice).Value;
                    var seen = SeenByTheViewer(OnPrint(picture, choice, finish, (across, down)), choice.FaceWidthMm, finish);
                    var artwork = placement.PixelToFace.Apply(new PlanePoint(across * PixelsWide, down * PixelsHigh));
                    // The file names lengths to a thousandth of a point, however large the picture.
                    Assert.Equal(artwork.X, seen.X, 0.001);
                    Assert.Equal(artwork.Y, seen.Y, 0.001);
                },
                iter: 100
            );
    }

    // What really happens, told without the rule: the printed side goes down on the coat, which mirrors once; behind glass the viewer is on
    // the other side of the coat, which mirrors once more.
    private static PlanePoint SeenByTheViewer(PlanePoint onPrint, double faceWidthMm, Finish finish)
    {
        var onCoat = new PlanePoint(faceWidthMm - onPrint.X, onPrint.Y);
        var isSeenThroughThePiece = finish == Finish.BehindGlass;
        return isSeenThroughThePiece ? new PlanePoint(faceWidthMm - onCoat.X, onCoat.Y) : onCoat;
    }

    // Where a place of the picture, in shares of it, stands in the file: in mm from the face's upper left corner on the paper.
    private static PlanePoint OnPrint(PdfPicture picture, PictureChoice choice, Finish finish, (double Across, double Down) of)
    {
        var face = SheetSamples.Plate(choice.FaceWidthMm, choice.FaceHeightMm);
        var transfer = new Transfer("7K2M9", "plate", face, choice.BleedMm, finish)
        {
            Picture = new TransferPicture(picture, PicturePlacement.From(choice).Value.PixelToFace),
        };
        var run = SheetSamples.PlanUnturned(SheetSamples.On("A3"), transfer);
        using var pdf = PdfDocument.Open(PrintSheets.Draw(run, SheetSamples.Label).ToBytes());
        var page = pdf.GetPage(1);
        var box = page.GetImages().Single().BoundingBox;
        var x = box.TopLeft.X + (of.Across * (box.TopRight.X - box.TopLeft.X)) + (of.Down * (box.BottomLeft.X - box.TopLeft.X));
        var y = box.TopLeft.Y + (of.Across * (box.TopRight.Y - box.TopLeft.Y)) + (of.Down * (box.BottomLeft.Y - box.TopLeft.Y));
        var cell = run.Sheets[0].Cells[0];
        return new PlanePoint(
            (x / PointsPerMm) - cell.At.X - cell.Cell.Print.X - choice.BleedMm,
            ((page.Height - y) / PointsPerMm) - cell.At.Y - cell.Cell.Print.Y - choice.BleedMm
        );
    }
}

using ShopFloor.Documents.Imaging;
using ShopFloor.Documents.Pdf;
using ShopFloor.Documents.Sheets;
using ShopFloor.Documents.Tests.Imaging;
using ShopFloor.Documents.Tests.Pdf;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Pictures;

namespace ShopFloor.Documents.Tests.Sheets;

/// <summary>A proof shows a face for each text and lists every text in full, over as many pages as it takes.</summary>
public sealed class ProofSheetsTests
{
    private static readonly PaperFacts Facts = new("Proof", new DateTime(2026, 5, 4, 6, 0, 0, DateTimeKind.Utc), Tagged: true);

    [Theory]
    [InlineData(1, 1)]
    [InlineData(3, 1)]
    [InlineData(20, 2)]
    [InlineData(60, 6)]
    public void Draw_ListOfTexts_HasEachOneOnAFaceAndInTheListAndIsTheSameEachTime(int count, int mostPages)
    {
        var texts = Names(count);
        var pdf = Draw(texts);
        var words = Poppler.Words(pdf, "-layout");

        // On its face, in the name below it, and in the list; a single one on its face alone.
        foreach (var text in texts)
            Assert.Equal(count > 1 ? 3 : 1, words.Split(text).Length - 1);
        Assert.InRange(Pages(pdf), 1, mostPages);
        Assert.Equal(words, Poppler.Words(Draw(texts), "-layout"));
    }

    [Fact]
    public void Draw_TextsThatDoNotFit_AreMarkedAndListedInFull()
    {
        var tooLong = string.Join(' ', Enumerable.Range(1, 30).Select(i => $"Anniversary{i}"));
        var part = Part(["Ann", tooLong]);
        part = part with { Faces = [part.Faces[0], part.Faces[1] with { Mark = "does not fit" }] };

        var words = Poppler.Words(ProofSheets.Draw([part], new ProofWords(), Facts).ToBytes());

        Assert.Equal(2, words.Split("! does not fit").Length - 1);
        for (var i = 1; i <= 30; i++)
            Assert.Contains($"Anniversary{i}", words, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(FaceShape.Ring, 60, 60)]
    [InlineData(FaceShape.Disc, 40, 40)]
    [InlineData(FaceShape.Rectangle, 600, 20)]
    [InlineData(FaceShape.Rectangle, 20, 600)]
    [InlineData(FaceShape.RoundedRectangle, 9, 5)]
    public void Draw_FacesOfAllShapes_StayOnThePage(FaceShape shape, double wide, double high)
    {
        var face = new FaceOutline(shape, wide, high, 2, 10);
        var part = new ProofPart("Line 1", face, Ink.Wash)
        {
            Faces = [.. Names(9).Select(t => new ProofFace(FaceText.On(face, t, underPicture: false, light: false)))],
        };
        // Whatever leaves the page is missing in the words of its box.
        var words = Poppler.Words(
            ProofSheets.Draw([part], new ProofWords(), Facts).ToBytes(),
            "-x",
            "0",
            "-y",
            "0",
            "-W",
            "595",
            "-H",
            "842"
        );

        foreach (var name in Names(9))
            Assert.Equal(3, words.Split(name).Length - 1);
    }

    [Fact]
    public void Draw_PictureOfALine_IsInTheFileOnce()
    {
        var picture = PrintPicture.Of(TestPictures.Png());
        var laid = new TransferPicture(picture, new PlaneTransform(100.0 / picture.WidthPx, 0, 0, 0, 60.0 / picture.HeightPx, 0));
        var pdf = ProofSheets.Draw([Part(Names(3)) with { Picture = laid }], new ProofWords(), Facts).ToBytes();

        // The stand-in of each face points to the one body.
        var objects = Poppler
            .Images(pdf)
            .Split('\n', StringSplitOptions.RemoveEmptyEntries)
            .Skip(2)
            .Select(l => l.Split(' ', StringSplitOptions.RemoveEmptyEntries)[10]);
        Assert.Single(objects.Distinct(StringComparer.Ordinal));
    }

    private static byte[] Draw(IReadOnlyList<string> texts) => ProofSheets.Draw([Part(texts)], new ProofWords(), Facts).ToBytes();

    private static ProofPart Part(IReadOnlyList<string> texts)
    {
        var face = new FaceOutline(FaceShape.Rectangle, 100, 60);
        return new ProofPart("Line 1", face, Ink.Wash)
        {
            Faces = [.. texts.Select(t => new ProofFace(FaceText.On(face, t, underPicture: true, light: false)))],
        };
    }

    // Of one length, so that none is part of another.
    private static IReadOnlyList<string> Names(int count) => [.. Enumerable.Range(1, count).Select(i => $"Wren{i:000}")];

    private static int Pages(byte[] pdf) =>
        int.Parse(
            Poppler.Info(pdf).Split('\n').Single(l => l.StartsWith("Pages:", StringComparison.Ordinal))["Pages:".Length..],
            CultureInfo.InvariantCulture
        );
}

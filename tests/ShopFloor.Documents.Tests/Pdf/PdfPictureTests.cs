using ImageMagick;
using ShopFloor.Documents.Imaging;
using ShopFloor.Documents.Pdf;
using ShopFloor.Documents.Tests.Imaging;
using SkiaSharp;

namespace ShopFloor.Documents.Tests.Pdf;

public sealed class PdfPictureTests
{
    private static readonly RectMm Place = new(20, 30, 60, 40);

    [Fact]
    public void Picture_Jpeg_StandsInThePdfByteForByte()
    {
        var jpeg = TestPictures.Jpeg();

        var pdf = OnePicture(jpeg);

        Assert.Equal(jpeg, Assert.Single(Poppler.ImageFiles(pdf)));
        Assert.Matches(@"image +240 +160 +icc +3 +8 +jpeg +no", Poppler.Images(pdf));
    }

    public static TheoryData<string, byte[]> Pngs =>
        new()
        {
            { "rgb 8", TestPictures.Png() },
            { "grey 8", Magick(p => p.ColorType = ColorType.Grayscale, MagickFormat.Png) },
            { "palette", Magick(p => p.Quantize(new QuantizeSettings { Colors = 7 }), MagickFormat.Png8) },
            { "one bit", Magick(p => p.Threshold(new Percentage(80)), MagickFormat.Png, depth: 1) },
            { "interlaced", Magick(p => p.Settings.Interlace = Interlace.Png, MagickFormat.Png24) },
        };

    [Theory]
    [MemberData(nameof(Pngs))]
    public void Picture_Png_KeepsEachPixelExactly(string what, byte[] png)
    {
        var pdf = OnePicture(png);

        using var source = Decoded(png);
        using var seen = Decoded(Poppler.ImageFiles(pdf)[0]);
        AssertSamePixels(what, source, seen);
        Assert.Matches(@"image +240 +160 +(icc|index) ", Poppler.Images(pdf));
    }

    [Fact]
    public void Picture_PngOfSixteenBits_StandsInThePdfAsItIsPacked()
    {
        var png = Magick(_ => { }, MagickFormat.Png48);
        var at = png.AsSpan().IndexOf("IDAT"u8);
        var length = System.Buffers.Binary.BinaryPrimitives.ReadInt32BigEndian(png.AsSpan(at - 4));

        var pdf = OnePicture(png);

        Assert.True(pdf.AsSpan().IndexOf(png.AsSpan(at + 4, length)) > 0);
        Assert.Matches(@"image +240 +160 +icc +3 +16 ", Poppler.Images(pdf));
    }

    [Fact]
    public void Picture_WithTransparency_KeepsColoursAndMaskExactly()
    {
        using var source = TestPictures.Transparent();
        var pdf = OnePicture(TestPictures.Encoded(source, SKEncodedImageFormat.Png, 100, keep: true));

        var files = Poppler.ImageFiles(pdf);
        using var colours = SKBitmap.Decode(files[0]);
        using var mask = SKBitmap.Decode(files[1]);
        for (var y = 0; y < source.Height; y++)
        for (var x = 0; x < source.Width; x++)
        {
            var wanted = source.GetPixel(x, y);
            Assert.Equal(wanted.Alpha, mask.GetPixel(x, y).Red);
            // A pixel that cannot be seen at all may have any colour.
            if (wanted.Alpha > 0)
                Assert.Equal(wanted.WithAlpha(255), colours.GetPixel(x, y));
        }
    }

    [Fact]
    public void Picture_Placed_FillsItsBoxToAHundredthOfAMillimetre()
    {
        using var read = UglyToad.PdfPig.PdfDocument.Open(OnePicture(TestPictures.Jpeg()));

        var box = read.GetPage(1).GetImages().Single().BoundingBox;
        Assert.Equal(20 * 72 / 25.4, box.Left, 0.02);
        Assert.Equal(60 * 72 / 25.4, box.Width, 0.02);
        Assert.Equal(40 * 72 / 25.4, box.Height, 0.02);
        Assert.Equal((297 - 30) * 72 / 25.4, box.Top, 0.02);
    }

    public static TheoryData<PictureTurn> Turns => new(Enum.GetValues<PictureTurn>());

    [Theory]
    [MemberData(nameof(Turns))]
    public void Picture_TurnedByTag_IsPrintedUpright(PictureTurn turn)
    {
        var stored = TestPictures.Encoded(PictureDoorTests.StoredFor(turn), SKEncodedImageFormat.Png, 100);

        AssertUpright(Poppler.Page(OnePicture(TestPictures.Tagged(stored, ".png", $"-Orientation#={(int)turn}")), 72), mirrored: false);
    }

    [Fact]
    public void Picture_InAMirroredScope_IsPrintedMirrored()
    {
        var paper = new PdfPaper(PdfPaperTests.Facts);
        var sheet = paper.AddSheet(new SizeMm(210, 297));
        using (sheet.Moved(Motion.MirrorAbout(Place.Middle.X)))
            sheet.Picture(PrintPicture.Of(TestPictures.Jpeg()), Place);

        AssertUpright(Poppler.Page(paper.ToBytes(), 72), mirrored: true);
    }

    [Fact]
    public void Picture_OnManySheets_IsStoredOnce()
    {
        var paper = new PdfPaper(PdfPaperTests.Facts);
        var picture = PrintPicture.Of(TestPictures.Photo(1200, 800, 3));
        for (var i = 0; i < 10; i++)
            paper.AddSheet(new SizeMm(100, 100)).Picture(picture, new RectMm(10, 10, 60, 40));

        var pdf = paper.ToBytes();

        Assert.InRange(pdf.Length, 0, TestPictures.Photo(1200, 800, 3).Length + 40_000);
        Assert.Equal(10, Poppler.Images(pdf).Split('\n').Count(l => l.Contains("jpeg", StringComparison.Ordinal)));
    }

    [Fact]
    public void Picture_ProfileOfItsOwn_IsKept()
    {
        using var picture = new MagickImage(TestPictures.Png());
        picture.SetProfile(ColorProfiles.AdobeRGB1998);
        var jpeg = picture.ToByteArray(MagickFormat.Jpeg);

        var pdf = OnePicture(jpeg);

        Assert.Equal(jpeg, Assert.Single(Poppler.ImageFiles(pdf)));
        Assert.Matches(@"image +240 +160 +icc +3 ", Poppler.Images(pdf));
        Assert.Contains("N 3", System.Text.Encoding.Latin1.GetString(pdf)[^6000..], StringComparison.Ordinal);
    }

    [Fact]
    public void Of_NoPicture_IsAnArgumentError() => Assert.Throws<ArgumentException>(() => PrintPicture.Of("no picture"u8.ToArray()));

    [Fact]
    public void Srgb_Profile_IsReadByAnotherLibraryAsSrgb()
    {
        using var space = SKColorSpace.CreateIcc(IccProfile.Srgb);
        using var red = new SKBitmap(new SKImageInfo(3, 1, SKColorType.Rgba8888, SKAlphaType.Opaque, space));
        red.SetPixel(0, 0, new SKColor(200, 100, 50));
        using var srgb = new SKBitmap(new SKImageInfo(3, 1, SKColorType.Rgba8888, SKAlphaType.Opaque, SKColorSpace.CreateSrgb()));
        Assert.True(red.PeekPixels().ReadPixels(srgb.Info, srgb.GetPixels(), srgb.RowBytes, 0, 0));

        PictureDoorTests.AssertNear(new SKColor(200, 100, 50), srgb.GetPixel(0, 0), 1);
    }

    private static byte[] OnePicture(byte[] file)
    {
        var paper = new PdfPaper(PdfPaperTests.Facts);
        paper.AddSheet(new SizeMm(210, 297)).Picture(PrintPicture.Of(file), Place);
        return paper.ToBytes();
    }

    private static void AssertUpright(SKBitmap page, bool mirrored)
    {
        using (page)
        {
            var (left, right) = mirrored ? (72, 28) : (28, 72);
            PictureDoorTests.AssertNear(TestPictures.Red, At(left, 36), 20);
            PictureDoorTests.AssertNear(TestPictures.Green, At(right, 36), 20);
            PictureDoorTests.AssertNear(TestPictures.Blue, At(left, 64), 20);
            PictureDoorTests.AssertNear(TestPictures.Yellow, At(right, 64), 20);
            PictureDoorTests.AssertNear(SKColors.White, At(15, 50), 2);
        }

        SKColor At(double xMm, double yMm) => page.GetPixel((int)(xMm / 25.4 * 72), (int)(yMm / 25.4 * 72));
    }

    private static void AssertSamePixels(string what, SKBitmap wanted, SKBitmap seen)
    {
        Assert.Equal((wanted.Width, wanted.Height), (seen.Width, seen.Height));
        for (var y = 0; y < wanted.Height; y++)
        for (var x = 0; x < wanted.Width; x++)
            Assert.True(
                wanted.GetPixel(x, y) == seen.GetPixel(x, y),
                $"{what} at {x},{y}: {wanted.GetPixel(x, y)} became {seen.GetPixel(x, y)}"
            );
    }

    private static SKBitmap Decoded(byte[] file)
    {
        using var codec = SKCodec.Create(new MemoryStream(file));
        var bitmap = new SKBitmap(new SKImageInfo(codec.Info.Width, codec.Info.Height, SKColorType.Rgba8888, SKAlphaType.Unpremul, null));
        Assert.Equal(SKCodecResult.Success, codec.GetPixels(bitmap.Info, bitmap.GetPixels()));
        return bitmap;
    }

    private static byte[] Magick(Action<MagickImage> change, MagickFormat format, uint depth = 8)
    {
        using var picture = new MagickImage(TestPictures.Png());
        picture.HasAlpha = false;
        picture.Depth = depth;
        change(picture);
        picture.Strip();
        return picture.ToByteArray(format);
    }
}

using System.Security.Cryptography;
using CsCheck;
using ShopFloor.Documents.Imaging;
using ShopFloor.Documents.Pdf;
using ShopFloor.Domain;
using SkiaSharp;

namespace ShopFloor.Documents.Tests.Imaging;

public sealed class PictureDoorTests : IDisposable
{
    private readonly PictureDoor door = new();

    public void Dispose() => door.Dispose();

    public static TheoryData<string, byte[], string, string> BadFiles =>
        new()
        {
            { "empty", [], "a.png", "picture-empty" },
            { "text renamed", "hello, this is no picture"u8.ToArray(), "a.jpg", "picture-kind" },
            { "program renamed", [.. "MZ"u8, .. new byte[200]], "a.png", "picture-kind" },
            { "picture with a program's name", TestPictures.Png(), "a.exe", "picture-ending" },
            { "svg", "<?xml version='1.0'?><svg xmlns='http://www.w3.org/2000/svg'/>"u8.ToArray(), "a.svg", "picture-ending" },
            { "svg renamed", "<?xml version='1.0'?><svg xmlns='http://www.w3.org/2000/svg'/>"u8.ToArray(), "a.png", "picture-kind" },
            { "pdf renamed", "%PDF-1.7 ..."u8.ToArray(), "a.png", "picture-kind" },
            { "gif renamed", "GIF89a..........."u8.ToArray(), "a.png", "picture-kind" },
            { "moving png", TestPictures.Apng(), "a.png", "picture-animated" },
            { "moving webp", TestPictures.AnimatedWebp(), "a.webp", "picture-animated" },
            { "png bomb", TestPictures.PngClaiming(100_000, 100_000), "a.png", "picture-too-many-pixels" },
            { "png bomb at the edge of integers", TestPictures.PngClaiming(uint.MaxValue, 1), "a.png", "picture-broken" },
            { "long thin png", TestPictures.PngClaiming(12_001, 10), "a.png", "picture-too-many-pixels" },
            { "png without size", TestPictures.PngClaiming(0, 10), "a.png", "picture-broken" },
            { "png with little data", TestPictures.PngClaiming(5_000, 5_000), "a.png", "picture-broken" },
            { "jpeg bomb", TestPictures.JpegClaiming(64_250, 64_250), "a.jpg", "picture-too-many-pixels" },
            { "jpeg without scan", TestPictures.JpegClaiming(100, 100), "a.jpg", "picture-broken" },
            { "jpeg cut in the middle", Half(TestPictures.Jpeg()), "a.jpg", "picture-broken" },
            { "jpeg cut in its head", TestPictures.Jpeg()[..20], "a.jpg", "picture-broken" },
            { "png cut in the middle", Half(TestPictures.Png(900, 700)), "a.png", "picture-broken" },
            { "webp cut in the middle", Half(TestPictures.Webp()), "a.webp", "picture-broken" },
            { "heic cut in the middle", Half(TestPictures.Heic()), "a.heic", "picture-heic" },
        };

    [Theory]
    [MemberData(nameof(BadFiles))]
    public async Task Admit_BadFile_IsRefusedWithOnePlainSentence(string what, byte[] file, string name, string code)
    {
        var result = await door.AdmitAsync(file, name, CancellationToken.None);

        Assert.False(result.IsOk, what);
        var refusal = Assert.Single(result.Refusals);
        Assert.Equal(code, refusal.Code);
        Assert.Equal("file", refusal.Field);
        Assert.EndsWith(".", refusal.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Admit_EndlessUpload_StopsReadingAtTheLimit()
    {
        using var upload = new EndlessStream();

        var result = await door.AdmitAsync(upload, "big.jpg", CancellationToken.None);

        Assert.Equal("picture-too-large", Assert.Single(result.Refusals).Code);
        Assert.InRange(upload.Given, door.Limits.MaxBytes, door.Limits.MaxBytes + 200_000);
    }

    [Theory]
    [InlineData("jpg", PictureFormat.Jpeg)]
    [InlineData("png", PictureFormat.Png)]
    [InlineData("webp", PictureFormat.Webp)]
    [InlineData("heic", PictureFormat.Heic)]
    public async Task Admit_GoodFile_SaysWhatItIsAndKeepsTheOriginal(string kind, PictureFormat format)
    {
        var file = kind switch
        {
            "jpg" => TestPictures.Jpeg(),
            "png" => TestPictures.Png(),
            "webp" => TestPictures.Webp(),
            _ => TestPictures.Heic(),
        };

        var picture = (await door.AdmitAsync(file, "a." + kind, CancellationToken.None)).Value;

        Assert.Equal((format, 240, 160), (picture.Header.Format, picture.Header.WidthPx, picture.Header.HeightPx));
        Assert.Equal((240, 160), (picture.CleanHeader.WidthPx, picture.CleanHeader.HeightPx));
        Assert.Equal(file, picture.Original.ToArray());
        Assert.Equal(Convert.ToHexStringLower(SHA256.HashData(file)), picture.Sha256);
        await AssertLooksRight(picture);
    }

    [Fact]
    public async Task Admit_PrintingInks_BecomesScreenColoursWithANote()
    {
        var picture = (await door.AdmitAsync(TestPictures.Cmyk(), "inks.jpg", CancellationToken.None)).Value;

        Assert.Equal(PictureColours.Cmyk, picture.Header.Colours);
        Assert.Equal((PictureFormat.Png, PictureColours.Rgb), (picture.CleanHeader.Format, picture.CleanHeader.Colours));
        Assert.Contains("CMYK", Assert.Single(picture.Notes), StringComparison.Ordinal);
        await AssertLooksRight(picture, tolerance: 45);
    }

    public static TheoryData<int, string> Turns
    {
        get
        {
            var data = new TheoryData<int, string>();
            foreach (var ending in new[] { ".jpg", ".png", ".webp" })
                for (var turn = 1; turn <= 8; turn++)
                    data.Add(turn, ending);
            return data;
        }
    }

    [Theory]
    [MemberData(nameof(Turns))]
    public async Task Admit_TurnedByTag_LooksUprightWhateverTheTag(int turn, string ending)
    {
        var stored = TestPictures.Encoded(StoredFor((PictureTurn)turn), Format(ending), 95);
        var file = TestPictures.Tagged(stored, ending, $"-Orientation#={turn}");

        var picture = (await door.AdmitAsync(file, "a" + ending, CancellationToken.None)).Value;

        Assert.Equal((240, 160), (picture.Header.WidthPx, picture.Header.HeightPx));
        Assert.Equal(picture.Header.Turn, picture.CleanHeader.Turn);
        await AssertLooksRight(picture);
    }

    [Theory]
    [InlineData(".jpg")]
    [InlineData(".png")]
    [InlineData(".webp")]
    public async Task Admit_PlaceAndPersonInTheFile_AreInNoCopy(string ending)
    {
        var plain = TestPictures.Encoded(TestPictures.Corners(), Format(ending), 95);
        var file = TestPictures.Tagged(
            plain,
            ending,
            "-GPSLatitude=48.2",
            "-GPSLatitudeRef=N",
            "-GPSLongitude=16.4",
            "-GPSLongitudeRef=E",
            "-XMP:City=Secretville",
            "-XMP-exif:GPSLatitude=48.2",
            "-EXIF:Artist=Nobody",
            "-Orientation#=6"
        );
        Assert.Contains("GPSLatitude", TestPictures.Tags(file, ending), StringComparison.Ordinal);

        var picture = (await door.AdmitAsync(file, "a" + ending, CancellationToken.None)).Value;
        var copy = (await door.CopyAsync(picture.Clean, new CopySpec(100, CopyFormat.Webp), CancellationToken.None)).Value;

        foreach (var tags in new[] { TestPictures.Tags(picture.Clean.ToArray(), ending), TestPictures.Tags(copy, ".webp") })
        {
            Assert.DoesNotContain("GPS", tags, StringComparison.Ordinal);
            Assert.DoesNotContain("XMP", tags, StringComparison.Ordinal);
            Assert.DoesNotContain("Secretville", tags, StringComparison.Ordinal);
            Assert.DoesNotContain("Nobody", tags, StringComparison.Ordinal);
        }
        Assert.Contains("Orientation", TestPictures.Tags(picture.Clean.ToArray(), ending), StringComparison.Ordinal);
        Assert.Equal(Pixels(plain), Pixels(picture.Clean.ToArray()));
    }

    [Theory]
    [InlineData(".jpg")]
    [InlineData(".png")]
    [InlineData(".webp")]
    public async Task Admit_FileWithAnotherHangingBehind_DropsIt(string ending)
    {
        var plain = TestPictures.Encoded(TestPictures.Corners(), Format(ending), 95);
        byte[] file = [.. plain, .. "PK\u0003\u0004<script>alert(1)</script>"u8];

        var picture = (await door.AdmitAsync(file, "a" + ending, CancellationToken.None)).Value;

        Assert.True(picture.Clean.Span.IndexOf("<script>"u8) < 0);
        Assert.Equal(Pixels(plain), Pixels(picture.Clean.ToArray()));
    }

    [Fact]
    public void Admit_DamagedBytesAnywhere_EitherRefusesOrTakesButNeverFails()
    {
        byte[][] good = [TestPictures.Jpeg(48, 32), TestPictures.Png(48, 32), TestPictures.Webp(), TestPictures.Heic()];
        Gen.Select(Gen.Int[0, good.Length - 1], Gen.Select(Gen.Int[0, 100_000], Gen.Byte).Array[1, 8], Gen.Int[0, 4_000])
            .Sample(
                (which, damage, cut) =>
                {
                    var file = good[which].ToArray();
                    foreach (var (at, value) in damage)
                        file[at % file.Length] = value;
                    if (cut % 3 == 0)
                        file = file[..Math.Max(1, file.Length - cut % file.Length)];
                    var result = door.AdmitAsync(file, null, CancellationToken.None).GetAwaiter().GetResult();
                    Assert.True(result.IsOk || result.Refusals.All(r => r.Text.Length > 10));
                },
                iter: 1500,
                threads: 1
            );
    }

    [Fact]
    public async Task Copy_LargePicture_IsShrunkToTheSideAskedFor()
    {
        var picture = (await door.AdmitAsync(TestPictures.Photo(3000, 2000, 1), "a.jpg", CancellationToken.None)).Value;

        var copy = (await door.CopyAsync(picture.Clean, new CopySpec(640), CancellationToken.None)).Value;

        using var bitmap = SKBitmap.Decode(copy);
        Assert.Equal((640, 427), (bitmap.Width, bitmap.Height));
        Assert.InRange(copy.Length, 1, 200_000);
    }

    [Fact]
    public async Task Copy_CropAndPixelWork_ActOnTheUprightPicture()
    {
        var file = TestPictures.Tagged(
            TestPictures.Encoded(StoredFor(PictureTurn.Right), SKEncodedImageFormat.Png, 100),
            ".png",
            "-Orientation#=6"
        );
        var picture = (await door.AdmitAsync(file, "a.png", CancellationToken.None)).Value;
        var spec = new CopySpec(100, CopyFormat.Png)
        {
            Crop = new CropShare(0.7, 0, 0.3, 0.3),
            Work = (rgba, _, _) =>
            {
                for (var i = 0; i < rgba.Length; i += 4)
                    (rgba[i], rgba[i + 2]) = (rgba[i + 2], rgba[i]);
            },
        };

        using var copy = SKBitmap.Decode((await door.CopyAsync(picture.Clean, spec, CancellationToken.None)).Value);

        Assert.Equal((72, 48), (copy.Width, copy.Height));
        AssertNear(new SKColor(TestPictures.Green.Blue, TestPictures.Green.Green, TestPictures.Green.Red), copy.GetPixel(36, 24), 3);
    }

    [Fact]
    public void Head_OfStoredFile_NeedsNoDecoding()
    {
        var head = door.Head(TestPictures.PngClaiming(6000, 6000)).Value;

        Assert.Equal((6000, 6000), (head.WidthPx, head.HeightPx));
    }

    private async Task AssertLooksRight(AdmittedPicture picture, int tolerance = 24)
    {
        var copy = (await door.CopyAsync(picture.Clean, new CopySpec(240, CopyFormat.Png), CancellationToken.None)).Value;
        using var bitmap = SKBitmap.Decode(copy);
        Assert.Equal((240, 160), (bitmap.Width, bitmap.Height));
        AssertNear(TestPictures.Red, bitmap.GetPixel(40, 30), tolerance);
        AssertNear(TestPictures.Green, bitmap.GetPixel(200, 30), tolerance);
        AssertNear(TestPictures.Blue, bitmap.GetPixel(40, 130), tolerance);
        AssertNear(TestPictures.Yellow, bitmap.GetPixel(200, 130), tolerance);
    }

    internal static void AssertNear(SKColor wanted, SKColor seen, int tolerance)
    {
        var off = Math.Max(
            Math.Abs(wanted.Red - seen.Red),
            Math.Max(Math.Abs(wanted.Green - seen.Green), Math.Abs(wanted.Blue - seen.Blue))
        );
        Assert.True(off <= tolerance, $"wanted {wanted}, saw {seen}");
    }

    /// <summary>The upright test picture stored so that the tag's turn makes it upright again (CIPA DC-008, Orientation).</summary>
    internal static SKBitmap StoredFor(PictureTurn turn)
    {
        using var upright = TestPictures.Corners();
        var swapped = turn >= PictureTurn.Transpose;
        var stored = swapped ? new SKBitmap(160, 240) : new SKBitmap(240, 160);
        for (var y = 0; y < stored.Height; y++)
        for (var x = 0; x < stored.Width; x++)
        {
            // Where the 0th row and the 0th column of the stored picture belong: the table of the tag.
            var (right, bottom) = (239, 159);
            var (ux, uy) = turn switch
            {
                PictureTurn.MirrorAcross => (right - x, y),
                PictureTurn.Half => (right - x, bottom - y),
                PictureTurn.MirrorDown => (x, bottom - y),
                PictureTurn.Transpose => (y, x),
                PictureTurn.Right => (right - y, x),
                PictureTurn.Transverse => (right - y, bottom - x),
                PictureTurn.Left => (y, bottom - x),
                _ => (x, y),
            };
            stored.SetPixel(x, y, upright.GetPixel(ux, uy));
        }
        return stored;
    }

    private static byte[] Pixels(byte[] file)
    {
        using var codec = SKCodec.Create(new MemoryStream(file));
        using var bitmap = SKBitmap.Decode(codec);
        return bitmap.Bytes;
    }

    private static SKEncodedImageFormat Format(string ending) =>
        ending switch
        {
            ".jpg" => SKEncodedImageFormat.Jpeg,
            ".png" => SKEncodedImageFormat.Png,
            _ => SKEncodedImageFormat.Webp,
        };

    private static byte[] Half(byte[] file) => file[..(file.Length / 2)];

    private sealed class EndlessStream : Stream
    {
        public long Given { get; private set; }
        public override bool CanRead => true;
        public override bool CanSeek => false;
        public override bool CanWrite => false;
        public override long Length => throw new NotSupportedException();
        public override long Position
        {
            get => Given;
            set => throw new NotSupportedException();
        }

        public override void Flush() => throw new NotSupportedException();

        public override int Read(byte[] buffer, int offset, int count)
        {
            Given += count;
            return count;
        }

        public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

        public override void SetLength(long value) => throw new NotSupportedException();

        public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();
    }
}

using ShopFloor.Documents.Imaging;
using ShopFloor.Documents.Tests.Pdf;
using SkiaSharp;

namespace ShopFloor.Documents.Tests.Imaging;

public sealed class QrTests
{
    [Theory]
    [InlineData("P-7K2M9-4")]
    [InlineData("https://shop.example/p/7K2M9-4")]
    [InlineData("Grüße Καλημέρα")]
    public void Of_Text_IsReadBackByTwoReaders(string text)
    {
        var png = QrCode.Of(text).ToPng(6);

        Assert.Equal(text, QrReader.Read(png).Value);
        using var folder = new TempFolder();
        File.WriteAllBytes(folder.File("qr.png"), png);
        Assert.Equal(text, Tool.Run("zbarimg", "-q", "--raw", folder.File("qr.png")).TrimEnd('\n'));
    }

    [Fact]
    public void Of_Text_HasItsQuietZoneAndLevelQ()
    {
        var code = QrCode.Of("P-7K2M9-4");
        using var bitmap = SKBitmap.Decode(code.ToPng(1));

        // ISO/IEC 18004 (from memory): four white modules all round; the two format bits of level Q are 11, masked by 10: 01 at row 8.
        Assert.Equal(code.FullSize, bitmap.Width);
        for (var i = 0; i < code.FullSize; i++)
        for (var rim = 0; rim < QrCode.QuietZone; rim++)
            Assert.All(
                [bitmap.GetPixel(i, rim), bitmap.GetPixel(rim, i), bitmap.GetPixel(i, code.FullSize - 1 - rim)],
                p => Assert.Equal(SKColors.White, p)
            );
        Assert.Equal((false, true), (code.IsDark(8, 0), code.IsDark(8, 1)));
    }

    [Fact]
    public void Of_FifteenPercentBlotted_StillReads()
    {
        using var bitmap = SKBitmap.Decode(QrCode.Of("https://shop.example/p/7K2M9-4").ToPng(8));
        var side = (int)(bitmap.Width * Math.Sqrt(0.15) * 0.7);
        bitmap.Erase(SKColors.Black, SKRectI.Create(bitmap.Width / 2, bitmap.Height / 2 - side / 2, side, side));

        Assert.Equal("https://shop.example/p/7K2M9-4", QrReader.Read(bitmap));
    }

    [Fact]
    public void ToSvg_Code_IsOnePathWithTheQuietZoneInItsView()
    {
        var code = QrCode.Of("P-7K2M9-4");
        var svg = System.Xml.Linq.XDocument.Parse(code.ToSvg("Piece <7K2M9>"));

        Assert.Equal($"0 0 {code.FullSize} {code.FullSize}", svg.Root!.Attribute("viewBox")!.Value);
        Assert.Equal("Piece <7K2M9>", svg.Root.Elements().First().Value);
    }

    [Fact]
    public void Read_FrameWithoutCode_SaysSo()
    {
        Assert.Equal("code-not-found", Assert.Single(QrReader.Read(TestPictures.Jpeg()).Refusals).Code);
        Assert.Equal("frame-unreadable", Assert.Single(QrReader.Read("no picture"u8.ToArray()).Refusals).Code);
        Assert.Equal("frame-unreadable", Assert.Single(QrReader.Read(TestPictures.PngClaiming(3000, 3000)).Refusals).Code);
    }
}

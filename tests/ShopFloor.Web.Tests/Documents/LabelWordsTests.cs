using System.Globalization;
using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Documents.Tests.Pdf;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Bench.TestPieces;
using ShopFloor.Web.Documents;
using ShopFloor.Web.Tests.Bench;
using ShopFloor.Web.Tests.Office.Orders;

namespace ShopFloor.Web.Tests.Documents;

/// <summary>What stands on a label about its piece.</summary>
public sealed partial class LabelWordsTests
{
    [Fact]
    public async Task Which_OfATestPiece_IsNoneOfThoseThatWereOrdered()
    {
        await using var shop = await BenchShop.OpenAsync(3);
        var test = BenchShop.Must(await shop.Shop.Get<MakeTestPiece>().RunAsync(shop.Ask(), new Target(shop.Code))).Codes[0];
        await using var context = await shop.Shop.ContextAsync();
        var work = await OpenWork.LoadAsync(context, shop.Shop.Clock.GetUtcNow(), null, default);

        var said = work.Pieces.OrderBy(p => p.Number).Select(p => LabelPapers.Which(work, p, work.LineOf(p)).Split(" · ")[1]);
        Assert.Equal(["1/3", "2/3", "3/3", "test piece"], said);
        Assert.True(work.Pieces.Single(p => p.Code == test).IsTest);
    }

    /// <summary>Fourteen names are one tray until the prints are taped on: nobody can tell the pieces apart before.</summary>
    [Fact]
    public async Task Labels_OfATrayWithANameEach_AreOneUntilTheNamesAreOnThePieces()
    {
        var names = Enumerable.Range(1, 14).Select(n => $"Name {n}").ToArray();
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(14, names));
        var pieces = await shop.PiecesAsync();
        var tray = pieces[0].Tray!;
        Assert.Equal([$"{tray} tray of 14"], await LabelsAsync(shop));

        await using (var context = await shop.Shop.ContextAsync())
        {
            foreach (var piece in (await context.Pieces.ToListAsync()).Where(p => p.Number <= 2))
                piece.Apply(new PictureBound(shop.Shop.Clock.GetUtcNow(), null, names[piece.Number - 1]));
            await context.SaveChangesAsync();
        }
        Assert.Equal([$"{pieces[0].Code} 1/14", $"{pieces[1].Code} 2/14", $"{tray} tray of 12"], await LabelsAsync(shop));
    }

    /// <summary>Code and count of each label, one a page.</summary>
    private static async Task<List<string>> LabelsAsync(ChangedShop shop)
    {
        var wish = new PaperWish(PaperKind.Labels, shop.Booked.Number.ToString(CultureInfo.InvariantCulture));
        var made = await shop.Get<PaperView>().MakeAsync(wish, "http://shop.example/");
        var pages = Poppler
            .Words(made.Value.Paper.ToBytes())
            .Split('\f', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        var codes = (await shop.PiecesAsync()).SelectMany(p => new[] { p.Code, p.Tray! }).ToHashSet();
        return [.. pages.Select(p => $"{codes.Single(c => p.Contains(c, StringComparison.Ordinal))} {Count().Match(p).Value}")];
    }

    [GeneratedRegex(@"(?<=· )(tray of \d+|\d+/\d+)", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Count();
}

using Bunit;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Counter.Status;
using ShopFloor.Web.Shared;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Counter;

/// <summary>What a list says goes on the pieces, unless it is a table.</summary>
public sealed class TextListTests
{
    [Theory]
    [InlineData("\"Oma\" Erika", "\"Oma\" Erika")]
    [InlineData("Love; Mum", "Love; Mum")]
    [InlineData("Love; Mum\nAnna", "Love; Mum|Anna")]
    [InlineData("a;b\nc;d;e", "a;b|c;d;e")]
    [InlineData("\"Céline; Dupont\"\nAnna", "Céline; Dupont|Anna")]
    [InlineData("\"Oma\" und \"Opa\"", "\"Oma\" und \"Opa\"")]
    [InlineData("\"6\"\" pipe\"", "6\" pipe")]
    [InlineData("\"open", "\"open")]
    public void Read_ListThatIsNoTable_KeepsTheWholeText(string list, string texts)
    {
        Assert.Equal(texts.Split('|'), TextList.Read(list).Select(r => r.Text));
        Assert.Equal(1, TextList.Columns(list));
    }

    [Theory]
    [InlineData("Anna;7\n\n\"Love; Mum\" ; 8\nBo;", "Anna|Love; Mum|Bo", 2)]
    [InlineData("Dov\tKabine 4", "Dov", 2)]
    [InlineData("\uFEFFAnna\ta; b\tx\r\nBo\t\t", "Anna|Bo", 3)]
    public void Read_AllLinesOfOneNumberOfColumns_TakesTheFirst(string list, string texts, int columns)
    {
        Assert.Equal(texts.Split('|'), TextList.Read(list).Select(r => r.Text));
        Assert.Equal(columns, TextList.Columns(list));
    }

    [Theory]
    [InlineData("Anna|Bo")]
    [InlineData("Love; Mum|Love; Dad")]
    [InlineData("\"Oma\"|\"Oma\" Erika|6\"")]
    public void Write_Texts_AreReadAgainAsTheyAre(string texts) =>
        Assert.Equal(texts.Split('|'), TextList.Good(TextList.Read(TextList.Write(texts.Split('|')))));

    [Fact]
    public void Again_LineWithTextsLikeATable_IsBookedWithTheSameTexts()
    {
        string[] texts = ["Love; Mum", "Love; Dad"];
        var line = new OrderLine(new(Guid.CreateVersion7()), 1, 2, new PieceDescription(), default) { Texts = texts };
        Assert.Equal(texts, EntryReading.Texts(LineAgain.Of(line, null, 2)));
    }

    /// <summary>What the customer is asked to approve of is there to be read: every text, not the first alone.</summary>
    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(3)]
    public async Task Status_LineWithTexts_ShowsEachOfThem(int count)
    {
        string[] texts = [.. new[] { "Anna", "Bo", "Cleo" }.Take(count)];
        var line = new OrderLine(new(Guid.CreateVersion7()), 1, 3, new PieceDescription(), default) { Texts = texts };
        await using var page = TestPage.Plain();

        var shown = page.Render<StatusLineView>(p =>
            p.Add(s => s.Line, new StatusLine(1, LineAgain.Of(line, null, 2), default, ShippedMaterials.Unknown, []))
                .Add(s => s.Rules, new PrintRules(2))
                .Add(s => s.Token, "")
        );

        Assert.Equal(count > 1 ? texts : [], shown.FindAll(".status-texts li").Select(l => l.TextContent.Trim()));
        Assert.Equal(count > 0 ? 1 : 0, shown.FindAll(".face-view").Count);
    }

    [Fact]
    public void Again_TextWhosePictureIsMissing_AsksForThePicture()
    {
        OrderLine Line(PictureOnFace placement, PictureId? picture) =>
            new(new(Guid.CreateVersion7()), 1, 1, new PieceDescription(), default)
            {
                Texts = ["Anna"],
                Placement = placement,
                Picture = picture,
            };
        var order = new Order(new(Guid.CreateVersion7()), 1, new(Guid.CreateVersion7()), new Contact("Ida", "", "1"), "EUR", default, "");
        var erased = Line(PictureOnFace.Whole, new PictureId(Guid.CreateVersion7()));
        order.Add(erased);
        order.ForgetPictures();

        Assert.False(LineAgain.Of(Line(PictureOnFace.Whole, null), null, 2).PictureLater);
        Assert.True(LineAgain.Of(Line(PictureOnFace.Whole with { IsToCome = true }, null), null, 2).PictureLater);
        Assert.True(LineAgain.Of(erased, null, 2).PictureLater);
    }

    /// <summary>A table's heading is no piece; where it reads like one that is what is proposed, and a tick says otherwise.</summary>
    [Theory]
    [InlineData("Name;Ort\nAnna;Ulm\nBo;Kiel", true, true, 2)]
    [InlineData("vorname\tNachname\nAnna\tA", true, true, 1)]
    [InlineData("Anna;Ulm\nBo;Kiel", true, false, 2)]
    [InlineData("Text\nAnna\nBo", true, false, 3)]
    [InlineData("Anna\nBo", false, false, 2)]
    [InlineData("Name", false, false, 1)]
    public void Read_AHeading_IsAskedAboutAndLeftOut(string list, bool asks, bool isHeading, int pieces)
    {
        var line = new LineEntry { List = list };
        Assert.Equal((asks, isHeading), (TextList.AsksHeading(list), line.LeavesHeading));
        Assert.Equal(pieces, EntryReading.Quantity(line));
        var whole = EntryReading.Quantity(line with { ListHasHeading = false });
        Assert.Equal(isHeading ? pieces + 1 : pieces, whole);
        if (asks)
            Assert.Equal(whole - 1, EntryReading.Quantity(line with { ListHasHeading = true }));
    }

    /// <summary>What was ticked for one list holds for no other, and only while the first row is asked about.</summary>
    [Theory]
    [InlineData("Team;Ort\nAnna;Ulm", 1)]
    [InlineData("Anna;Ulm\nBo;Kiel", 2)]
    [InlineData("Anna\nBo\nCleo", 3)]
    [InlineData("Name;Ort\nAnna;Ulm", 1)]
    [InlineData("Team;Ort", 1)]
    public void WithList_AfterATickedHeading_LeavesOutOnlyThatRow(string list, int pieces)
    {
        var ticked = new LineEntry { List = "Team;Ort\nAnna;Ulm\nBo;Kiel", ListHasHeading = true };
        Assert.Equal(2, EntryReading.Quantity(ticked));
        Assert.Equal(pieces, EntryReading.Quantity(ticked.WithList(list)));
        Assert.False(new LineEntry { List = "Anna\nBo", ListHasHeading = true }.LeavesHeading);
    }

    [Theory]
    [InlineData(true, "booked, not with us yet")]
    [InlineData(false, "booked, not begun yet")]
    public void Of_BookedPiece_SaysWhereItIs(bool isOwn, string words) =>
        Assert.Equal(words, StatusWords.Of(ShopFloor.Domain.Pieces.PieceState.Booked, isOwn));

    // "1000." in the Counter's letters is about 2.8 rem wide, and the mark keeps half a letter's distance from the text.
    [Fact]
    public void TextsRead_NumbersOfALongList_HaveRoomBeforeThem()
    {
        var css = Architecture.Tree.Text("src/ShopFloor.Web/wwwroot/counter/counter.css");
        Assert.Matches(@"#texts-read \{\s+padding-inline-start: 3\.5rem;", css);
    }
}

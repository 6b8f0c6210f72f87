using ShopFloor.Documents.Pdf;

namespace ShopFloor.Documents.Tests.Pdf;

public sealed class TextStyleTests
{
    private static readonly TextStyle Style = TextStyle.Body;

    [Fact]
    public void Wrap_HyphenatedNameWiderThanTheLine_BreaksAfterHyphensAndSlashes()
    {
        var width = Style.WidthMm("Hollerbusch-Sonnen");

        var lines = Style.Wrap("Hollerbusch-Sonnenthal-Weidengrund/Moorlicht", width);

        Assert.Equal(["Hollerbusch-", "Sonnenthal-", "Weidengrund/", "Moorlicht"], lines);
    }

    [Fact]
    public void Wrap_WordThatFitsALineOfItsOwn_StaysWhole()
    {
        var width = Style.WidthMm("Hollerbusch-Sonnenthal");

        Assert.Equal(["Anna", "Hollerbusch-Sonnenthal"], Style.Wrap("Anna Hollerbusch-Sonnenthal", width));
    }

    [Fact]
    public void Wrap_PartWiderThanTheLine_LosesNoLetter()
    {
        const string word = "Moor-Sonnenthalweidengrundhollerbuschlicht--Tal/";
        var width = Style.WidthMm("Sonnenthalwei");

        var lines = Style.Wrap(word, width);

        Assert.Equal(word, string.Concat(lines));
        Assert.All(lines, l => Assert.True(Style.WidthMm(l) <= width + 1e-6, l));
    }
}

using Bunit;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Web.Office.Exchange;

namespace ShopFloor.Web.Tests.Office.Exchange;

/// <summary>The page says how a file was read, and warns where that is a guess.</summary>
public sealed class ReadAsNoticeTests : IAsyncDisposable
{
    private readonly BunitContext page = new();

    public ReadAsNoticeTests() => page.Services.AddLocalization();

    [Fact]
    public void Notice_OfAGuess_ShowsWordsWithSpecialLetters()
    {
        var notice = page.Render<ReadAsNotice>(p => p.Add(n => n.File, new FileText("name\nJürgen Groß\n", FileText.Western)));
        Assert.Contains("Windows-1252", notice.Find(".warn").TextContent, StringComparison.Ordinal);
        Assert.Contains("Jürgen, Groß", notice.Find(".warn").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void Notice_OfWhatIsSure_IsQuiet()
    {
        var notice = page.Render<ReadAsNotice>(p => p.Add(n => n.File, new FileText("Jürgen", "UTF-8")));
        Assert.Empty(notice.FindAll(".warn"));
        Assert.Contains("UTF-8", notice.Markup, StringComparison.Ordinal);
    }

    public ValueTask DisposeAsync() => page.DisposeAsync();
}

using Bunit;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Web.Shared.Controls;
using ShopFloor.Web.Tests.Architecture;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Look;

/// <summary>What was entered and not saved is filled in again once the page takes it, and forgotten when it is saved.</summary>
public sealed class KeptEntryTests
{
    [Fact]
    public async Task Entry_PageOpened_IsFilledInOnceAndEachSaveIsCounted()
    {
        await using var page = TestPage.Plain();
        var entry = page.Render<KeptEntry>(p => p.Add(e => e.Name, "workshop").Add(e => e.Saves, 0).AddChildContent("<form></form>"));
        Assert.Equal("workshop", Assert.Single(Assert.Single(page.JSInterop.Invocations["keptEntry"]).Arguments));
        Assert.True(entry.Find("[data-told]").HasAttribute("hidden"));
        entry.Render(p => p.Add(e => e.Saves, 1));
        Assert.Equal("1", entry.Find("kept-entry").GetAttribute("data-saves"));
        Assert.Single(page.JSInterop.Invocations["keptEntry"]);
    }

    [Theory]
    [InlineData("Workshop/WorkshopPage")]
    [InlineData("Workshop/LetterTextsPage")]
    [InlineData("Prices/PricesPage")]
    [InlineData("Invoices/InvoiceSettingsPage")]
    [InlineData("Sending/MailPage")]
    [InlineData("Plans/WeightsPage")]
    [InlineData("Stock/CoatingPage")]
    public void Pages_ThatTakeAWhileToFillIn_KeepWhatIsEntered(string page)
    {
        var text = Tree.Text($"src/ShopFloor.Web/Office/{page}.razor");
        Assert.Contains("<KeptEntry ", text, StringComparison.Ordinal);
        Assert.Contains("saves += ", text, StringComparison.Ordinal);
    }
}

using Bunit;
using ShopFloor.Web.Office.Today;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office;

public sealed class BackupLineTests
{
    [Theory]
    [InlineData(2, "Last backup less than an hour ago")]
    [InlineData(61, "Last backup an hour ago")]
    [InlineData(150, "Last backup 2 hours ago")]
    public async Task Age_OfAFreshBackup_IsSaidAsPeopleSayIt(int minutes, string words)
    {
        await using var page = TestPage.Plain();
        var now = DateTimeOffset.UnixEpoch.AddYears(56);
        var state = new BackupState(now.AddMinutes(-minutes), null);
        var line = page.Render<BackupLine>(p => p.Add(l => l.State, state).Add(l => l.Now, now));
        Assert.Contains(words, line.Markup, StringComparison.Ordinal);
    }
}

using Bunit;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Web.Shared;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Look;

/// <summary>What is said while the network is away: that nothing is lost, what to do, and that it is tried again by itself.</summary>
public sealed class ReconnectBoxTests
{
    [Fact]
    public async Task Box_WhileItIsTried_SaysThatThePageShallStayOpen()
    {
        await using var page = TestPage.Plain();
        var box = page.Render<ReconnectBox>();
        foreach (var state in new[] { "first", "again" })
        {
            var words = string.Join(' ', box.FindAll($"dialog [data-when~={state}]").Select(w => w.TextContent));
            Assert.Contains("The connection is interrupted.", words, StringComparison.Ordinal);
            Assert.Contains("What was confirmed is safe. Leave this page open", words, StringComparison.Ordinal);
        }
        Assert.Contains("comes back by itself", box.Find("[data-when=failed]").TextContent, StringComparison.Ordinal);
        Assert.NotNull(box.Find("[data-when~=again] [data-retry]"));
    }
}

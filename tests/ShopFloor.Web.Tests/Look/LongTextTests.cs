using Bunit;
using Microsoft.AspNetCore.Components.Server.Circuits;
using Microsoft.AspNetCore.SignalR;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Options;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Shared.Controls;
using ShopFloor.Web.Tests.Security;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Look;

/// <summary>What a field takes arrives: every field of text has an end, and the circuit carries the longest.</summary>
public sealed class LongTextTests
{
    [Theory]
    [InlineData(1, null, 500)]
    [InlineData(3, null, 4000)]
    [InlineData(3, Order.MostNote, Order.MostNote)]
    public async Task TextField_Any_HasAnEnd(int lines, int? own, int most)
    {
        await using var page = TestPage.Plain();
        var more = own is null ? [] : new Dictionary<string, object> { ["maxlength"] = own };
        var field = page.Render<TextField>(p =>
        {
            p.Add(f => f.Name, "text").Add(f => f.Label, "Text").Add(f => f.Lines, lines);
            foreach (var (name, value) in more)
                p.AddUnmatched(name, value);
        });
        Assert.Equal(most.ToString(CultureInfo.InvariantCulture), field.Find("#text").GetAttribute("maxlength"));
    }

    [Fact]
    public async Task Circuit_LongestText_IsCarried()
    {
        await using var host = await ShopHost.StartAsync(signIns: false);
        var hub = typeof(CircuitHandler).Assembly.GetType("Microsoft.AspNetCore.Components.Server.ComponentHub", throwOnError: true)!;
        var options =
            (IOptions<HubOptions>)
                host.Services.GetRequiredService(typeof(IOptions<>).MakeGenericType(typeof(HubOptions<>).MakeGenericType(hub)));
        var most = options.Value.MaximumReceiveMessageSize;
        Assert.Equal(FrameSetUp.MostMessage, most);
        // Three bytes for a letter, and room for what is around the text.
        Assert.True(most > (3 * TextList.MostLetters) + 32_768);
        Assert.True(TextField.MostOfLines <= TextList.MostLetters);
    }
}

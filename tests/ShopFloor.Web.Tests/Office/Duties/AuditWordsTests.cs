using ShopFloor.Web.Api;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Office.Duties;
using ShopFloor.Web.Office.Keys;
using ShopFloor.Web.Office.Sending;

namespace ShopFloor.Web.Tests.Office.Duties;

/// <summary>Who changed what names rights of keys and events of webhooks as the pages do that grant them.</summary>
public sealed class AuditWordsTests
{
    [Theory]
    [InlineData("key made")]
    [InlineData("key taken away")]
    public void Of_RightsOfAKey_AreTheWordsOfThePageOfKeys(string what) =>
        Assert.Equal("Ask for prices and book orders; Read the plan", AuditWords.Of(what, $"{ApiScopes.OrdersIn}, {ApiScopes.PlanOut}"));

    [Fact]
    public void Of_EveryRightAndEvent_IsNoNameOfAProgram()
    {
        Assert.All([.. ApiScopes.OfPrograms, ApiScopes.Calendar], s => Assert.NotEqual(s, KeyWords.Of(s)));
        Assert.All(OrderNews.All, e => Assert.NotEqual(e, EventWords.Of(e)));
    }

    /// <summary>The address may hold the sign that parts the values.</summary>
    [Fact]
    public void Of_AWebhook_IsReadValueByValue()
    {
        var after = AuditWords.Of("webhook changed", $"https://a.example/x; y; {OrderNews.Ready}, {OrderNews.CalledOff}; on");
        Assert.Equal(
            [("Address", "https://a.example/x; y"), ("Events", "An order is ready, An order is called off"), ("State", "on")],
            AuditDifference.Of("", after).Select(c => (c.Name, c.After))
        );
        var changed = AuditDifference.Of(
            AuditWords.Of("webhook changed", "https://a.example; all events; on"),
            AuditWords.Of("webhook changed", "https://a.example; all events; off")
        );
        Assert.Equal([("State", "on", "off")], changed.Select(c => (c.Name, c.Before, c.After)));
    }

    [Fact]
    public void Of_AnythingElse_StaysAsItIs() => Assert.Equal("orders, x; y; z", AuditWords.Of("station changed", "orders, x; y; z"));
}

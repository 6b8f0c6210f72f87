using Bunit;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office;

/// <summary>Pages of the Office that somebody has open while somebody else changes the same.</summary>
internal static class MeanwhilePages
{
    internal static BunitContext Page(TestShop shop)
    {
        var page = TestPage.Of(shop);
        return page;
    }

    internal static IRenderedComponent<T> Open<T>(BunitContext page, Guid owner, (string Name, object Value) with)
        where T : IComponent
    {
        var who = TestPage.Worker(owner);
        var open = page.Render<T>(p =>
        {
            p.TryAdd(with.Name, with.Value);
            p.AddCascadingValue(TestPage.Session(who));
        });
        open.WaitForElement("form");
        return open;
    }

    internal static AngleSharp.Dom.IElement Form<T>(IRenderedComponent<T> open)
        where T : IComponent => open.FindAll("form").Single(f => f.QuerySelector("#name") is not null);

    internal static string? Value<T>(IRenderedComponent<T> open, string field)
        where T : IComponent => open.Find($"#{field}").GetAttribute("value");
}

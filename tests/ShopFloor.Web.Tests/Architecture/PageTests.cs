using System.Reflection;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Components;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Tests.Architecture;

/// <summary>What every page and component keeps to. Each test was seen to fail on the violation named beside it.</summary>
public sealed class PageTests
{
    private static IEnumerable<Type> Components =>
        typeof(Program).Assembly.GetTypes().Where(t => t.IsAssignableTo(typeof(ComponentBase)) && !t.IsAbstract);

    private static IEnumerable<Type> Pages => Components.Where(t => t.GetCustomAttributes<RouteAttribute>().Any());

    // Seen to fail with the Authorize line taken out of the Office's first page, and with a misspelt policy.
    [Fact]
    public void Pages_Policy_IsNamedOrSaysEveryone()
    {
        Assert.NotEmpty(Pages);
        foreach (var page in Pages)
        {
            var authorize = page.GetCustomAttributes<AuthorizeAttribute>().ToList();
            var open = page.GetCustomAttributes<AllowAnonymousAttribute>().Any();
            Assert.True(open != authorize.Count > 0, $"{page.FullName}: either [Authorize(Policy = …)] or [AllowAnonymous].");
            Assert.All(
                authorize,
                a => Assert.True(Policies.Roles.ContainsKey(a.Policy ?? ""), $"{page.FullName}: unknown policy '{a.Policy}'.")
            );
        }
    }

    // Seen to fail with a page for the Office moved under /counter: a counter session may be anywhere below it.
    [Fact]
    public void Pages_OpenToTheCounter_LieBelowItsPath()
    {
        foreach (var page in Pages.Where(p => p.GetCustomAttributes<AuthorizeAttribute>().Any(a => a.Policy == Policies.Counter)))
            Assert.All(
                page.GetCustomAttributes<RouteAttribute>(),
                r =>
                    Assert.True(
                        r.Template == "/" || r.Template.StartsWith("/counter", StringComparison.Ordinal),
                        $"{page.FullName}: {r.Template}"
                    )
            );
        foreach (var page in Pages.Where(p => p.GetCustomAttributes<AuthorizeAttribute>().Any(a => a.Policy != Policies.Counter)))
            Assert.All(
                page.GetCustomAttributes<RouteAttribute>(),
                r => Assert.False(r.Template.StartsWith("/counter", StringComparison.Ordinal), $"{page.FullName}: {r.Template}")
            );
    }

    // Seen to fail with [Inject] ShopContext in a component.
    [Fact]
    public void Components_Members_HoldNoContextAndNoEntity()
    {
        var entities = EntityTypes();
        Assert.NotEmpty(entities);
        const BindingFlags all =
            BindingFlags.Instance | BindingFlags.Static | BindingFlags.Public | BindingFlags.NonPublic | BindingFlags.DeclaredOnly;
        foreach (var component in Components)
        {
            var held = component
                .GetProperties(all)
                .Select(p => p.PropertyType)
                .Concat(component.GetFields(all).Select(f => f.FieldType))
                .SelectMany(Parts);
            Assert.All(
                held,
                type =>
                    Assert.False(
                        type.IsAssignableTo(typeof(DbContext))
                            || type == typeof(WriteGate)
                            || type == typeof(CommandRunner)
                            || entities.Contains(type),
                        $"{component.FullName} holds {type.Name}: pages see use cases and view records only."
                    )
            );
        }
    }

    // Seen to fail with InputFile put on the samples page: a file would be lost with the circuit.
    [Fact]
    public void Pages_Markup_HasNoUploadThroughTheCircuitAndNoInlineHandlerOrScript()
    {
        string[] banned = ["<InputFile", "MudFileUpload", " onclick=\"", " onload=\"", "javascript:", "<style", "https://", "http://"];
        foreach (var page in Tree.Files("src/ShopFloor.Web", ".razor"))
            Assert.All(banned, b => Assert.False(Tree.Text(page).Contains(b, StringComparison.Ordinal), $"{page} contains {b}"));
    }

    private static IEnumerable<Type> Parts(Type type) =>
        type.IsGenericType ? type.GetGenericArguments().SelectMany(Parts).Append(type) : [type];

    private static HashSet<Type> EntityTypes()
    {
        var options = new DbContextOptionsBuilder<ShopContext>();
        ShopDatabase.Configure(options, "never-opened.db");
        using var context = new ShopContext(options.Options);
        return [.. context.Model.GetEntityTypes().Where(e => !e.IsOwned()).Select(e => e.ClrType)];
    }
}

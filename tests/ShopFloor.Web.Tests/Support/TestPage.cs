using System.Security.Claims;
using Bunit;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Web.Shared;

namespace ShopFloor.Web.Tests.Support;

/// <summary>Where a page or a part of one is drawn for a test: with what every page of the program has.</summary>
internal static class TestPage
{
    /// <summary>A page that needs nothing of a shop.</summary>
    public static BunitContext Plain()
    {
        var page = new BunitContext();
        page.Services.AddLocalization();
        page.Services.AddSingleton<Spoken>();
        page.Services.AddSingleton(TimeProvider.System);
        page.JSInterop.Mode = JSRuntimeMode.Loose;
        return page;
    }

    /// <summary>A page of a shop: by its clock, and with all that it has registered. What a test registers itself goes before.</summary>
    public static BunitContext Of(TestShop shop)
    {
        var page = Plain();
        page.Services.AddSingleton<TimeProvider>(shop.Clock);
        page.Services.AddFallbackServiceProvider(shop.Get<IServiceProvider>());
        return page;
    }

    /// <summary>Somebody who is signed in.</summary>
    public static ClaimsPrincipal Worker(Guid worker, string? role = null) =>
        new(
            new ClaimsIdentity(
                [
                    new Claim(ClaimTypes.NameIdentifier, worker.ToString()),
                    .. role is null ? Enumerable.Empty<Claim>() : [new Claim(ClaimTypes.Role, role)],
                ],
                "test"
            )
        );

    /// <summary>The session that pages are given.</summary>
    public static Task<AuthenticationState> Session(ClaimsPrincipal user) => Task.FromResult(new AuthenticationState(user));

    /// <summary>The session of somebody who is signed in.</summary>
    public static Task<AuthenticationState> Session(Guid worker, string? role = null) => Session(Worker(worker, role));

    /// <summary>The session of nobody.</summary>
    public static Task<AuthenticationState> Nobody => Session(new ClaimsPrincipal());
}

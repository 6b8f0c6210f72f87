using System.Net;
using System.Reflection;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Data;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Tests.Security;

/// <summary>Goes through every page of the program as every role and as nobody. Seen to fail with [AllowAnonymous] beside the policy of the Office's first page.</summary>
public sealed class FenceTests
{
    private static IEnumerable<(string Path, string? Policy)> Pages =>
        from type in typeof(Program).Assembly.GetTypes()
        from route in type.GetCustomAttributes<RouteAttribute>()
        select (Fill(route.Template), type.GetCustomAttribute<AuthorizeAttribute>()?.Policy);

    [Theory]
    [InlineData(null)]
    [InlineData(WorkerRole.Owner)]
    [InlineData(WorkerRole.Bench)]
    [InlineData(WorkerRole.Counter)]
    public async Task Get_EveryPage_OpensForTheRolesOfItsPolicyOnly(string? role)
    {
        await using var host = await ShopHost.StartAsync();
        using var client = role is null ? host.Client() : await host.ClientAsync(role);
        foreach (var (path, policy) in Pages.Where(p => p.Policy is not null))
        {
            using var answer = await client.GetAsync(path);
            if (role is null)
                Assert.True(
                    answer.Headers.Location?.ToString().Contains("/sign-in", StringComparison.Ordinal),
                    $"{path}: {answer.StatusCode}"
                );
            else if (Policies.Roles[policy!].Contains(role, StringComparer.Ordinal))
                Assert.True(IsOpen(answer), $"{path} as {role}: {answer.StatusCode} {answer.Headers.Location}");
            else
                Assert.True(answer.StatusCode == HttpStatusCode.Forbidden, $"{path} as {role}: {answer.StatusCode}");
        }
    }

    [Fact]
    public async Task Get_EndpointsThatAreNoPages_WantASignInToo()
    {
        await using var host = await ShopHost.StartAsync();
        using var client = host.Client();
        client.DefaultRequestHeaders.Accept.Clear();
        foreach (var path in new[] { "/clock", "/_blazor/negotiate?negotiateVersion=1", "/nothing-here" })
        {
            using var answer = path.StartsWith("/_blazor", StringComparison.Ordinal)
                ? await client.PostAsync(path, null)
                : await client.GetAsync(path);
            Assert.Equal(HttpStatusCode.Unauthorized, answer.StatusCode);
        }
    }

    [Fact]
    public async Task Get_UnknownAddressAsCounter_Says404WithoutAWayOut()
    {
        await using var host = await ShopHost.StartAsync();
        using var client = await host.ClientAsync(WorkerRole.Counter);
        using var answer = await client.GetAsync("/_admin");
        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
        Assert.DoesNotContain("href=\"office", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    // A page may lead on (the first page of a role) or say that its sample thing does not exist; both mean it let us in.
    private static bool IsOpen(HttpResponseMessage answer) =>
        answer.StatusCode is HttpStatusCode.OK or HttpStatusCode.NotFound
        || (
            answer.StatusCode == HttpStatusCode.Redirect
            && answer.Headers.Location?.ToString().Contains("sign-in", StringComparison.Ordinal) == false
        );

    private static string Fill(string template) =>
        string.Join(
            '/',
            template
                .Split('/')
                .Select(part =>
                    !part.StartsWith('{') ? part
                    : part.Contains(":guid", StringComparison.Ordinal) ? Guid.Empty.ToString()
                    : part.Contains(":int", StringComparison.Ordinal) || part.Contains(":long", StringComparison.Ordinal) ? "1"
                    : "x"
                )
        );
}

using System.Reflection;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Browser.Tests.Harness;
using ShopFloor.Data;
using ShopFloor.Web.Security;

namespace ShopFloor.Browser.Tests.Frame;

/// <summary>
/// Opens every page that needs no further address part, on the devices of its place, by daylight and in the dark: the browser refuses
/// nothing, axe-core finds nothing, everything to press is large enough, nothing runs out of the side.
/// </summary>
[Collection(OnStage.Name)]
public sealed class EveryPageTests(Stage stage)
{
    private const int DeskTarget = 24;
    private const int TouchTarget = 44;

    public static TheoryData<string, string> Places =>
        new()
        {
            { "", WorkerRole.Owner },
            { Policies.Office, WorkerRole.Owner },
            { Policies.Counter, WorkerRole.Counter },
            { Policies.Bench, WorkerRole.Bench },
            { Policies.Wall, WorkerRole.Bench },
        };

    [Theory]
    [MemberData(nameof(Places))]
    public async Task Open_EveryPageOfAPlace_IsCleanOnItsDevices(string policy, string role)
    {
        var faults = new List<string>();
        foreach (var screen in DevicesOf(policy))
        foreach (var dark in (bool[])[false, true])
        {
            await using var visitor = await stage.VisitAsync(screen, policy.Length == 0 ? null : role, dark);
            foreach (var path in PathsOf(policy))
            {
                await visitor.GoAsync(path);
                await visitor.ShootAsync("page" + path.Replace('/', '-'), fullPage: policy != Policies.Wall);
                var place = $"{path} on {screen.Name}{(dark ? ", dark" : "")}";
                faults.AddRange((await visitor.AxeAsync()).Select(f => $"{place}: {f}"));
                faults.AddRange(
                    (await visitor.SmallTargetsAsync(policy == Policies.Office ? DeskTarget : TouchTarget)).Select(f =>
                        $"{place}: small: {f}"
                    )
                );
                if (await visitor.OverflowAsync() is > 0 and var pixels)
                    faults.Add($"{place}: {pixels} px wider than the screen");
            }
            faults.AddRange(visitor.Complaints.Select(c => $"{policy} on {screen.Name}: {c}"));
        }
        Assert.True(faults.Count == 0, string.Join('\n', faults));
    }

    private static IEnumerable<Screen> DevicesOf(string policy) =>
        policy switch
        {
            Policies.Office => [Screen.Desk, Screen.Phone],
            Policies.Counter => [Screen.TabletUpright, Screen.Tablet, Screen.Phone],
            Policies.Bench => [Screen.Phone, Screen.Tablet],
            Policies.Wall => [Screen.Wall],
            _ => [Screen.Phone, Screen.Desk],
        };

    private static IEnumerable<string> PathsOf(string policy) =>
        from type in typeof(Program).Assembly.GetTypes()
        where (type.GetCustomAttribute<AuthorizeAttribute>()?.Policy ?? "") == policy
        from route in type.GetCustomAttributes<RouteAttribute>()
        where !route.Template.Contains('{', StringComparison.Ordinal) && route.Template is not ("/" or "/setup" or "/fault")
        orderby route.Template
        select route.Template;
}

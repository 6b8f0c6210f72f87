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
        var screens = DevicesOf(policy);
        await using var visitor = await stage.VisitAsync(screens[0], policy.Length == 0 ? null : role);
        foreach (var path in PathsOf(policy))
        {
            await visitor.TurnToAsync(screens[0], dark: false);
            await visitor.GoAsync(path);
            foreach (var screen in screens)
            {
                await visitor.TurnToAsync(screen, dark: false);
                faults.AddRange((await LookAsync(visitor, path, policy)).Select(f => $"{path} on {screen.Name}: {f}"));
                await visitor.TurnToAsync(screen, dark: true);
                await visitor.ShootAsync(PictureOf(path), fullPage: policy != Policies.Wall);
                faults.AddRange((await visitor.ContrastAsync()).Select(f => $"{path} on {screen.Name}, dark: {f}"));
            }
        }
        faults.AddRange(visitor.Complaints);
        Assert.True(faults.Count == 0, string.Join('\n', faults));
    }

    private static async Task<IReadOnlyList<string>> LookAsync(Visitor visitor, string path, string policy)
    {
        await visitor.ShootAsync(PictureOf(path), fullPage: policy != Policies.Wall);
        var faults = new List<string>(await visitor.AxeAsync());
        var small = await visitor.SmallTargetsAsync(policy == Policies.Office ? DeskTarget : TouchTarget);
        faults.AddRange(small.Select(f => "small: " + f));
        if (await visitor.OverflowAsync() is > 0 and var pixels)
            faults.Add($"{pixels} px wider than the screen");
        return faults;
    }

    private static string PictureOf(string path) => "page" + path.Replace('/', '-');

    private static Screen[] DevicesOf(string policy) =>
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

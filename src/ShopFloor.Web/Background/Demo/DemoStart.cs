using Microsoft.AspNetCore.Identity;
using ShopFloor.Data;
using ShopFloor.Web.Hosting;

namespace ShopFloor.Web.Background.Demo;

/// <summary>Fills an empty database with the demo workshop at the start, where that is wanted, and says how to sign in.</summary>
public static partial class DemoStart
{
    /// <summary>The demo's sign-ins: name, password, role. For a first look only; a Production start makes none.</summary>
    private static readonly IReadOnlyList<(string Name, string Display, string Password, string Role)> SignIns =
    [
        ("owner", "Ada (owner)", "moorlight owner", WorkerRole.Owner),
        ("bench", "Bo (bench)", "moorlight bench", WorkerRole.Bench),
        ("counter", "Counter tablet", "moorlight counter", WorkerRole.Counter),
    ];

    /// <summary>Fills it when the settings say so and nothing is there.</summary>
    public static async Task OpenDemoAsync(this WebApplication app)
    {
        if (app.Services.GetRequiredService<HostSettings>().Demo != true)
            return;
        await using var scope = app.Services.CreateAsyncScope();
        if (await scope.ServiceProvider.GetRequiredService<DemoWorkshop>().RunAsync())
            await AddSignInsAsync(scope.ServiceProvider);
        foreach (var (name, _, password, role) in SignIns)
            LogSignIn(app.Logger, role, name, password);
    }

    private static async Task AddSignInsAsync(IServiceProvider services)
    {
        var workers = services.GetRequiredService<UserManager<Worker>>();
        var roles = services.GetRequiredService<RoleManager<WorkerRole>>();
        foreach (var (name, display, password, role) in SignIns)
        {
            if (!await roles.RoleExistsAsync(role))
                Must(await roles.CreateAsync(new WorkerRole { Id = Guid.CreateVersion7(), Name = role }));
            var worker = new Worker
            {
                Id = Guid.CreateVersion7(),
                UserName = name,
                DisplayName = display,
            };
            Must(await workers.CreateAsync(worker, password));
            Must(await workers.AddToRoleAsync(worker, role));
        }
    }

    private static void Must(IdentityResult result)
    {
        if (!result.Succeeded)
            throw new InvalidOperationException(string.Join(' ', result.Errors.Select(e => e.Description)));
    }

    [LoggerMessage(Level = LogLevel.Information, Message = "Demo sign-in as {Role}: name {Name}, password {Password}")]
    private static partial void LogSignIn(ILogger logger, string role, string name, string password);
}

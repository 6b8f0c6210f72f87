using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Background.Demo;

/// <summary>Fills an empty database with the demo workshop at the start, where that is wanted, and says how to sign in.</summary>
public static partial class DemoStart
{
    /// <summary>The demo's sign-ins. For a first look only: they are printed at each start, and a Production start makes none.</summary>
    public static IReadOnlyList<(string Name, string Display, string Password, string Role, string? Person)> SignIns { get; } =
    [
        ("owner", "Ada (owner)", "moorlight owner", WorkerRole.Owner, "ada"),
        ("bench", "Bo (bench)", "moorlight bench", WorkerRole.Bench, "bo"),
        ("counter", "Counter tablet", "moorlight counter", WorkerRole.Counter, null),
    ];

    /// <summary>Fills it when the settings say so and nothing is there.</summary>
    public static async Task OpenDemoAsync(this WebApplication app)
    {
        if (app.Services.GetRequiredService<HostSettings>().Demo != true)
            return;
        await using (var scope = app.Services.CreateAsyncScope())
            if (await scope.ServiceProvider.GetRequiredService<DemoWorkshop>().RunAsync())
                await scope.ServiceProvider.GetRequiredService<DemoBooks>().RunAsync();
        await AddSignInsAsync(app.Services);
        foreach (var (name, _, password, role, _) in SignIns)
            LogSignIn(app.Logger, role, name, password);
    }

    /// <summary>Makes those sign-ins that are missing.</summary>
    public static async Task AddSignInsAsync(IServiceProvider services)
    {
        using var turn = await services.GetRequiredService<WriteGate>().EnterAsync(CancellationToken.None);
        await using var scope = services.CreateAsyncScope();
        var context = scope.ServiceProvider.GetRequiredService<ShopContext>();
        var enrol = scope.ServiceProvider.GetRequiredService<EnrolWorker>();
        foreach (var (name, display, password, role, code) in SignIns)
        {
            if (await context.Users.AnyAsync(u => u.UserName == name))
                continue;
            PersonId? person = await context.People.Where(p => p.Code == code).Select(p => (PersonId?)p.Id).FirstOrDefaultAsync();
            var made = await enrol.RunAsync(new NewWorker(name, password, role, display, person), CancellationToken.None);
            if (!made.IsOk)
                throw new InvalidOperationException($"Demo sign-in {name}: {made.Refusals[0].Text}");
        }
    }

    [LoggerMessage(Level = LogLevel.Information, Message = "Demo sign-in as {Role}: name {Name}, password {Password}")]
    private static partial void LogSignIn(ILogger logger, string role, string name, string password);
}

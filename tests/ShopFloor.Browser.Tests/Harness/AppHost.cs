using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Mvc.Testing;
using Microsoft.Data.Sqlite;
using ShopFloor.Data;
using ShopFloor.Web.Background.Demo;

namespace ShopFloor.Browser.Tests.Harness;

/// <summary>The program in this process, on a free port of this machine and in a data folder of its own.</summary>
public sealed class AppHost : IAsyncDisposable
{
    private readonly WebApplicationFactory<Program> factory;

    private AppHost(WebApplicationFactory<Program> factory, string folder)
    {
        (this.factory, Folder) = (factory, folder);
        Address = factory.ClientOptions.BaseAddress.ToString().TrimEnd('/');
    }

    /// <summary>Where it listens, without a slash at the end.</summary>
    public string Address { get; }

    /// <summary>Its data folder.</summary>
    public string Folder { get; }

    /// <summary>Its services, for looking behind the pages.</summary>
    public IServiceProvider Services => factory.Services;

    /// <summary>Starts it.</summary>
    /// <param name="demo">True: filled with the demo workshop and its sign-ins. False: empty, with the demo's sign-ins only.</param>
    /// <param name="settings">Further settings by their full names.</param>
    public static async Task<AppHost> StartAsync(bool demo = true, IReadOnlyDictionary<string, string>? settings = null)
    {
        var folder = Directory.CreateTempSubdirectory("shopfloor-browser-").FullName;
        var made = new WebApplicationFactory<Program>().WithWebHostBuilder(web => Shape(web, folder, demo, settings));
        made.UseKestrel(0);
        made.StartServer();
        if (!demo)
            await DemoStart.AddSignInsAsync(made.Services);
        return new AppHost(made, folder);
    }

    /// <summary>Name and password of the demo's worker with that role.</summary>
    public static (string Name, string Password) SignInOf(string role) =>
        DemoStart.SignIns.Where(s => s.Role == role).Select(s => (s.Name, s.Password)).Single();

    public async ValueTask DisposeAsync()
    {
        await factory.DisposeAsync();
        SqliteConnection.ClearAllPools();
        // First: what a page still reads after its host has ended finds no database and makes no files beside it.
        File.Delete(ShopDatabase.FileIn(Folder));
        Directory.Delete(Folder, recursive: true);
    }

    private static void Shape(IWebHostBuilder web, string folder, bool demo, IReadOnlyDictionary<string, string>? settings)
    {
        web.UseEnvironment("Development");
        // Any free port: without an address the program would take its usual one.
        web.UseSetting("urls", "http://127.0.0.1:0");
        web.UseSetting("ShopFloor:DataFolder", folder);
        web.UseSetting("ShopFloor:Demo", demo ? "true" : "false");
        // Every test signs in, and all from one address.
        web.UseSetting("ShopFloor:SignInsPerMinute", "100000");
        web.UseSetting("ShopFloor:UploadsPerMinute", "100000");
        web.UseSetting("ShopFloor:LinkCallsPerMinute", "100000");
        // Short searches: the tests have the processors.
        web.UseSetting("ShopFloor:PlanRounds", "12");
        web.UseSetting("Serilog:MinimumLevel:Default", "Warning");
        foreach (var (key, value) in settings ?? new Dictionary<string, string>())
            web.UseSetting(key, value);
    }
}

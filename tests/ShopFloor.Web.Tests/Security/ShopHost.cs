using System.Net;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Mvc.Testing;
using Microsoft.AspNetCore.TestHost;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Time.Testing;
using ShopFloor.Web.Background.Demo;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Security;

/// <summary>The whole program behind a test client, in a data folder of its own, with a clock that the test moves.</summary>
public sealed partial class ShopHost : IAsyncDisposable
{
    private readonly WebApplicationFactory<Program> factory;
    private readonly string folder;

    private ShopHost(WebApplicationFactory<Program> factory, string folder, FakeTimeProvider clock) =>
        (this.factory, this.folder, Clock) = (factory, folder, clock);

    public FakeTimeProvider Clock { get; }

    public IServiceProvider Services => factory.Services;

    /// <summary>Starts it empty; with sign-ins those of the demo are there. Without, it starts as a new shop does, on no database at all.</summary>
    public static async Task<ShopHost> StartAsync(
        bool signIns = true,
        string environment = "Production",
        params (string Key, string Value)[] settings
    )
    {
        var data = Directory.CreateTempSubdirectory("shopfloor-host-").FullName;
        if (signIns)
            (await TestShop.EmptyFolderAsync()).PutInto(data);
        var clock = new FakeTimeProvider(new DateTimeOffset(2026, 3, 4, 9, 0, 0, TimeSpan.Zero));
        var made = new WebApplicationFactory<Program>().WithWebHostBuilder(web =>
        {
            web.UseEnvironment(environment);
            web.UseSetting("ShopFloor:DataFolder", data);
            web.UseSetting("ShopFloor:Demo", "false");
            // Short searches: the tests have the processors.
            web.UseSetting("ShopFloor:PlanRounds", "12");
            web.UseSetting("Serilog:MinimumLevel:Default", "Error");
            web.UseSetting("ShopFloor:SignInsPerMinute", "1000");
            foreach (var (key, value) in settings)
                web.UseSetting(key, value);
            web.ConfigureTestServices(services => services.AddSingleton<TimeProvider>(clock));
        });
        var host = new ShopHost(made, data, clock);
        if (signIns)
            await DemoStart.AddSignInsAsync(made.Services);
        return host;
    }

    /// <summary>A browser-like client that follows nothing by itself and keeps its cookies.</summary>
    public HttpClient Client(string address = "http://localhost")
    {
        var client = factory.CreateClient(
            new WebApplicationFactoryClientOptions { AllowAutoRedirect = false, BaseAddress = new Uri(address) }
        );
        client.DefaultRequestHeaders.Accept.ParseAdd("text/html");
        return client;
    }

    /// <summary>A client signed in as the demo's worker with that role.</summary>
    public async Task<HttpClient> ClientAsync(string role)
    {
        var client = Client();
        var (name, _, password, _, _) = DemoStart.SignIns.Single(s => s.Role == role);
        using var answer = await SignInAsync(client, name, password);
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        return client;
    }

    /// <summary>Fills the sign-in form in and sends it.</summary>
    public static Task<HttpResponseMessage> SignInAsync(HttpClient client, string name, string password, string path = "/sign-in") =>
        PostAsync(client, path, "sign-in", ("Name", name), ("Password", password));

    /// <summary>Opens a page, takes its form token along and sends its form.</summary>
    public static async Task<HttpResponseMessage> PostAsync(
        HttpClient client,
        string path,
        string form,
        params (string Name, string Value)[] fields
    )
    {
        var token = FormToken().Match(await client.GetStringAsync(path)).Groups["token"].Value;
        var values = fields.Append(("_handler", form)).Append(("__RequestVerificationToken", token));
        using var content = new FormUrlEncodedContent(values.Select(f => KeyValuePair.Create(f.Item1, f.Item2)));
        return await client.PostAsync(path, content);
    }

    public async ValueTask DisposeAsync()
    {
        await factory.DisposeAsync();
        KeptFolder.Delete(folder);
    }

    [GeneratedRegex("""name="__RequestVerificationToken" value="(?<token>[^"]+)""", RegexOptions.None, 1000)]
    private static partial Regex FormToken();
}

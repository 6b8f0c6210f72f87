using System.Net;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.HttpOverrides;
using Microsoft.Extensions.Options;
using Serilog;
using Serilog.Events;
using Serilog.Formatting.Compact;
using ShopFloor.Data.Safety;

namespace ShopFloor.Web.Hosting;

/// <summary>The ground under the program: settings, folder, log, keys, addresses.</summary>
public static class HostSetUp
{
    private const string DefaultAddress = "http://127.0.0.1:5080";

    /// <summary>The same, with one line for each thing that stands in the way.</summary>
    /// <param name="builder">The program.</param>
    /// <param name="say">Where whoever starts it reads why it does not start.</param>
    /// <returns>The settings; null when it cannot start.</returns>
    public static HostSettings? TryAddHost(this WebApplicationBuilder builder, TextWriter say)
    {
        try
        {
            return builder.AddHost();
        }
        catch (OptionsValidationException wrong)
        {
            foreach (var fault in wrong.Failures)
                say.WriteLine(fault);
        }
        catch (Exception no) when (no is IOException or UnauthorizedAccessException)
        {
            say.WriteLine($"A folder or file that the program needs cannot be used: {no.Message}");
        }
        return null;
    }

    /// <summary>Reads and checks the settings and sets up all that depends on them.</summary>
    /// <exception cref="OptionsValidationException">A setting is wrong; the message names each.</exception>
    public static HostSettings AddHost(this WebApplicationBuilder builder)
    {
        var settings = ReadSettings(builder);
        builder.AddLog(settings);
        builder.Host.UseSystemd();
        builder.AddAddress();
        // Also from the build folder, outside Development, the styles of the component library must be found.
        builder.WebHost.UseStaticWebAssets();
        builder.Services.AddKeys(settings);
        if (settings.KnownProxies.Count > 0)
            builder.Services.Configure<ForwardedHeadersOptions>(o => Trust(o, settings));
        builder.Services.AddLocalization();
        var cultures = new ShopCultures(settings.Culture);
        builder.Services.AddSingleton(cultures);
        // What is made without a screen, a mail or a paper, is written as the workshop writes.
        CultureInfo.DefaultThreadCurrentCulture = cultures.Own;
        builder.Services.AddHsts(o => o.MaxAge = TimeSpan.FromDays(365));
        return settings;
    }

    private static HostSettings ReadSettings(WebApplicationBuilder builder)
    {
        var settings = Bound(builder.Configuration);
        // systemd names the folder it made for the service; an explicit setting wins.
        if (builder.Configuration["ShopFloor:DataFolder"] is null && builder.Configuration["STATE_DIRECTORY"] is { Length: > 0 } state)
            settings.DataFolder = state;
        var check = new HostSettingsCheck().Validate(null, settings);
        if (check.Failed)
            throw new OptionsValidationException(HostSettings.Section, typeof(HostSettings), check.Failures);
        settings.DataFolder = Path.GetFullPath(settings.DataFolder, builder.Environment.ContentRootPath);
        settings.Demo ??= builder.Environment.IsDevelopment();
        PrivateFolder.Create(settings.DataFolder);
        builder.Services.AddSingleton(settings);
        return settings;
    }

    // A word where a number is to be, and the like: the framework names the key and what it cannot be.
    private static HostSettings Bound(ConfigurationManager configuration)
    {
        try
        {
            return configuration.GetSection(HostSettings.Section).Get<HostSettings>() ?? new HostSettings();
        }
        catch (InvalidOperationException wrong)
        {
            throw new OptionsValidationException(HostSettings.Section, typeof(HostSettings), [wrong.Message]);
        }
    }

    private static void AddLog(this WebApplicationBuilder builder, HostSettings settings) =>
        builder.Services.AddSerilog(log =>
            log.MinimumLevel.Information()
                .MinimumLevel.Override("Microsoft", LogEventLevel.Warning)
                .MinimumLevel.Override("Microsoft.Hosting.Lifetime", LogEventLevel.Information)
                .MinimumLevel.Override("System", LogEventLevel.Warning)
                .ReadFrom.Configuration(builder.Configuration)
                .Enrich.FromLogContext()
                .WriteTo.Console(formatProvider: CultureInfo.InvariantCulture)
                .WriteTo.File(
                    new CompactJsonFormatter(),
                    Path.Combine(settings.DataFolder, "logs", "shopfloor-.json"),
                    rollingInterval: RollingInterval.Day,
                    retainedFileCountLimit: 30,
                    fileSizeLimitBytes: 50_000_000,
                    rollOnFileSizeLimit: true
                )
        );

    private static void AddAddress(this WebApplicationBuilder builder)
    {
        var config = builder.Configuration;
        var given = new[] { "urls", "http_ports", "https_ports" }.Any(k => !string.IsNullOrEmpty(config[k]));
        if (!given && !config.GetSection("Kestrel:Endpoints").GetChildren().Any())
            builder.WebHost.UseUrls(DefaultAddress);
        builder.WebHost.ConfigureKestrel(o =>
        {
            o.AddServerHeader = false;
            // Only the upload endpoint takes more, and says so itself.
            o.Limits.MaxRequestBodySize = 2_000_000;
        });
    }

    private static void AddKeys(this IServiceCollection services, HostSettings settings)
    {
        var folder = PrivateFolder.Create(Path.Combine(settings.DataFolder, "keys"));
        services.AddDataProtection().SetApplicationName("ShopFloor").PersistKeysToFileSystem(new DirectoryInfo(folder));
    }

    private static void Trust(ForwardedHeadersOptions options, HostSettings settings)
    {
        // The host is not among them: a proxy passes Host itself on, and what else says a name ends up in links and redirects.
        options.ForwardedHeaders = ForwardedHeaders.XForwardedFor | ForwardedHeaders.XForwardedProto;
        options.KnownIPNetworks.Clear();
        options.KnownProxies.Clear();
        foreach (var proxy in settings.KnownProxies)
            options.KnownProxies.Add(IPAddress.Parse(proxy));
    }
}

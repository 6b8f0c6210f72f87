using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;

namespace ShopFloor.Web.Hosting;

/// <summary>Tells whoever started the program where it is.</summary>
public static partial class Greeting
{
    public static void GreetOnStart(this WebApplication app, HostSettings settings) =>
        app.Lifetime.ApplicationStarted.Register(() =>
        {
            var addresses = app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()?.Addresses ?? [];
            foreach (var address in addresses)
                LogAddress(app.Logger, address + settings.PathBase);
            if (!settings.Https && app.Environment.IsProduction())
                LogOpen(app.Logger);
        });

    [LoggerMessage(Level = LogLevel.Information, Message = "ShopFloor is open at {Address}")]
    private static partial void LogAddress(ILogger logger, string address);

    [LoggerMessage(
        Level = LogLevel.Warning,
        Message = "ShopFloor:Https is off: passwords and sign-ins travel readable on the network. Put a proxy with a certificate before it and set it to true"
    )]
    private static partial void LogOpen(ILogger logger);
}

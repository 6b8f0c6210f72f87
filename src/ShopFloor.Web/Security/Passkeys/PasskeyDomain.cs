using ShopFloor.Web.Hosting;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Security.Passkeys;

/// <summary>
/// The name that passkeys are bound to: as set, else the host of the address under which people reach the program, else the host that was
/// asked for. A passkey made for one name is good for no other.
/// </summary>
public sealed class PasskeyDomain(HostSettings settings, SettingsView view)
{
    /// <summary>The name; empty where there can be no passkeys, for an address of figures is no name.</summary>
    public async Task<string> OfAsync(HttpContext http)
    {
        if (settings.PasskeyDomain.Length > 0)
            return settings.PasskeyDomain.ToLowerInvariant();
        var set = (await view.LoadAsync(http.RequestAborted)).Profile.PublicAddress;
        var host = Uri.TryCreate(set, UriKind.Absolute, out var address) ? address.Host : http.Request.Host.Host;
        return Uri.CheckHostName(host) == UriHostNameType.Dns ? host.ToLowerInvariant() : "";
    }
}

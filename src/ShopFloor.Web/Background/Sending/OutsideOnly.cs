using System.Net;
using System.Net.Sockets;

namespace ShopFloor.Web.Background.Sending;

/// <summary>
/// Connects to addresses of the open internet only. The name is resolved here and the very address that was judged is connected to, so
/// that a name which answers differently a moment later leads nowhere else.
/// </summary>
public static class OutsideOnly
{
    // What may not be called: RFC 6890 and its registry (this host, private, shared, loopback, link-local, documentation, benchmarking,
    // multicast, reserved), and their counterparts in IPv6.
    private static readonly IPNetwork[] Inside =
    [
        .. "0.0.0.0/8 10.0.0.0/8 100.64.0.0/10 127.0.0.0/8 169.254.0.0/16 172.16.0.0/12 192.0.0.0/24 192.0.2.0/24 192.168.0.0/16 198.18.0.0/15 198.51.100.0/24 203.0.113.0/24 224.0.0.0/4 240.0.0.0/4 ::/128 ::1/128 64:ff9b::/96 64:ff9b:1::/48 100::/64 2001::/23 2001:db8::/32 2002::/16 fc00::/7 fe80::/10 ff00::/8"
            .Split(' ')
            .Select(IPNetwork.Parse),
    ];

    /// <summary>True for an address that must not be called.</summary>
    public static bool IsInside(IPAddress address)
    {
        var plain = address.IsIPv4MappedToIPv6 ? address.MapToIPv4() : address;
        return Array.Exists(Inside, n => n.BaseAddress.AddressFamily == plain.AddressFamily && n.Contains(plain));
    }

    /// <summary>A client that follows no redirects, waits at most ten seconds, and calls only outside.</summary>
    /// <param name="allowInside">For tests: everything may be called.</param>
    public static HttpClient Client(bool allowInside) =>
        new(
            new SocketsHttpHandler
            {
                AllowAutoRedirect = false,
                UseProxy = false,
                UseCookies = false,
                ConnectTimeout = TimeSpan.FromSeconds(5),
                PooledConnectionLifetime = TimeSpan.FromMinutes(1),
                ConnectCallback = (context, cancel) => ConnectAsync(context.DnsEndPoint, allowInside, cancel),
            }
        )
        {
            Timeout = TimeSpan.FromSeconds(10),
            MaxResponseContentBufferSize = 64_000,
        };

    private static async ValueTask<Stream> ConnectAsync(DnsEndPoint to, bool allowInside, CancellationToken cancel)
    {
        var addresses = await Dns.GetHostAddressesAsync(to.Host, cancel);
        var allowed = addresses.Where(a => allowInside || !IsInside(a)).ToArray();
        if (allowed.Length == 0)
            throw new HttpRequestException($"{to.Host} leads into a private network, which is not called.");
        var socket = new Socket(SocketType.Stream, ProtocolType.Tcp) { NoDelay = true };
        try
        {
            await socket.ConnectAsync(allowed, to.Port, cancel);
            return new NetworkStream(socket, ownsSocket: true);
        }
        catch
        {
            socket.Dispose();
            throw;
        }
    }
}

namespace ShopFloor.Web.Counter.Secrets;

/// <summary>Headers of pages whose address is a secret: it must not travel on, lie in a cache or be found.</summary>
public static class SecretHeaders
{
    public static void On(HttpResponse response)
    {
        response.Headers.CacheControl = "no-store";
        response.Headers["Referrer-Policy"] = "no-referrer";
        response.Headers["X-Robots-Tag"] = "noindex, nofollow";
    }
}

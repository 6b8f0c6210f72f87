namespace ShopFloor.Web.Security;

/// <summary>Tells a person's page request from a script's call.</summary>
public static class PageRequest
{
    /// <summary>True when a page is wanted: a browser opens it, or asks for text/html.</summary>
    public static bool IsWanted(HttpRequest request) =>
        HttpMethods.IsGet(request.Method) && request.Headers.Accept.ToString().Contains("text/html", StringComparison.OrdinalIgnoreCase);
}

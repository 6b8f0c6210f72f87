using ShopFloor.Web.Commands;
using ShopFloor.Web.Wall.Reading;

namespace ShopFloor.Web.Wall;

/// <summary>Reads what a wall shows.</summary>
public sealed class WallView(SharedSheets shared) : IPageView
{
    /// <param name="stations">Codes of the stations this wall shows; empty: all.</param>
    public Task<WallSheet> ReadAsync(IReadOnlyCollection<string> stations) => shared.ReadAsync(stations);
}

public static class WallSetUp
{
    /// <summary>What all walls share.</summary>
    public static void AddWall(this IServiceCollection services) =>
        services.AddSingleton<Shared.Spoken>().AddSingleton<SharedWork>().AddSingleton<SharedSheets>().AddHostedService<Calls.CallWatch>();
}

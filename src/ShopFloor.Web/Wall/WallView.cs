using ShopFloor.Web.Commands;
using ShopFloor.Web.Wall.Reading;

namespace ShopFloor.Web.Wall;

/// <summary>Reads what a wall shows.</summary>
public sealed class WallView(SharedWork shared, TimeProvider time) : IPageView
{
    /// <param name="stations">Codes of the stations this wall shows; empty: all.</param>
    public async Task<WallSheet> ReadAsync(IReadOnlyCollection<string> stations) =>
        WallSheet.Of(await shared.ReadAsync(), time.GetUtcNow(), stations);
}

public static class WallSetUp
{
    /// <summary>What all walls share.</summary>
    public static void AddWall(this IServiceCollection services) => services.AddSingleton<SharedWork>().AddHostedService<Calls.CallWatch>();
}

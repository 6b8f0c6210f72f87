using ShopFloor.Web.Background.Plans;

namespace ShopFloor.Web.Background;

public static class BackgroundSetUp
{
    /// <summary>Everything that works without anybody looking: the planner.</summary>
    public static IServiceCollection AddBackground(this IServiceCollection services)
    {
        services.AddSingleton<PlanDesk>();
        services.AddSingleton<PlanShelf>();
        services.AddHostedService<PlanKeeper>();
        return services;
    }
}

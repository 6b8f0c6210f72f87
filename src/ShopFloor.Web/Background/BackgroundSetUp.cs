using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Background.Rounds;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Office.Duties;

namespace ShopFloor.Web.Background;

public static class BackgroundSetUp
{
    /// <summary>Everything that works without anybody looking: the planner, the outbox, the rounds.</summary>
    public static IServiceCollection AddBackground(this IServiceCollection services)
    {
        services.AddSingleton<PlanDesk>();
        services.AddHostedService<PlanKeeper>();
        services.AddSending();
        services.AddHostedService<OutboxSender>();
        services.AddSingleton<KeepBackup>();
        services.AddSingleton<SweepPictures>();
        services.AddSingleton<ClearNightly>();
        services.AddSingleton<CheckDatabase>();
        services.AddHostedService<HouseRounds>();
        return services;
    }
}

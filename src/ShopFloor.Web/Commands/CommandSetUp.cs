using ShopFloor.Data;
using ShopFloor.Data.Safety;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Office.Duties;

namespace ShopFloor.Web.Commands;

public static class CommandSetUp
{
    private static readonly Type[] Marks = [typeof(IUseCase), typeof(IPageView), typeof(IErrand)];

    /// <summary>The database in that folder, the command runner, and every use case, page view and errand of this assembly.</summary>
    public static IServiceCollection AddShop(this IServiceCollection services, string dataFolder)
    {
        services.AddSingleton(_ => ProcessLock.Take(dataFolder));
        services.AddSingleton<WriteGate>();
        services.AddDbContextFactory<ShopContext>(options => ShopDatabase.Configure(options, ShopDatabase.FileIn(dataFolder)));
        services.AddSingleton<CommandRunner>();
        services.AddSingleton<ErasureList>();
        services.AddSingleton<JournalPhotos>();
        services.AddSingleton<Office.Exchange.ExportTurn>();
        services.AddSingleton<PlanShelf>();
        services.AddSingleton<PlanHistory>();
        services.AddSingleton<PromiseDay>();
        services.AddSingleton<Counter.Booking.JudgedLines>();
        foreach (var type in typeof(CommandSetUp).Assembly.GetTypes())
            if (type is { IsClass: true, IsAbstract: false } && Array.Exists(Marks, type.IsAssignableTo))
                services.AddScoped(type);
        return services;
    }
}

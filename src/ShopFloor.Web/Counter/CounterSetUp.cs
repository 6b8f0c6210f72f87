using ShopFloor.Documents.Imaging;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Counter.Secrets;
using ShopFloor.Web.Counter.Start;
using ShopFloor.Web.Counter.Status;
using ShopFloor.Web.Counter.Ticket;
using ShopFloor.Web.Hosting;

namespace ShopFloor.Web.Counter;

/// <summary>What the Counter needs beside its use cases, and its addresses that are no pages.</summary>
public static class CounterSetUp
{
    public static IServiceCollection AddCounter(this IServiceCollection services)
    {
        services.AddSingleton(s => new PictureDoor(new PictureLimits(s.GetRequiredService<HostSettings>().UploadMegabytes * 1024L * 1024)));
        services.AddSingleton<PictureFolder>();
        services.AddSingleton(s => new Misses(s.GetRequiredService<TimeProvider>(), Misses.Most));
        return services.AddCounterLanguages();
    }

    public static void MapCounter(this IEndpointRouteBuilder app)
    {
        app.MapPictures();
        app.MapStart();
        app.MapStatus();
        app.MapTicket();
    }
}

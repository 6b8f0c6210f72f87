using ShopFloor.Documents.Imaging;
using ShopFloor.Web.Counter.Clerk;
using ShopFloor.Web.Counter.Offers;
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
    /// <summary>Names the count of wrong pairs of order and name.</summary>
    public const string WhereMisses = "where is my order";

    /// <summary>Wrong pairs in a minute after which a device waits: somebody who mistypes needs two or three.</summary>
    public const int MostWhereMisses = 5;

    public static IServiceCollection AddCounter(this IServiceCollection services)
    {
        services.AddSingleton(s => new PictureDoor(new PictureLimits(s.GetRequiredService<HostSettings>().UploadBytes)));
        services.AddSingleton<PictureFolder>();
        services.AddSingleton(s => new Misses(s.GetRequiredService<TimeProvider>(), Misses.Most));
        services.AddKeyedSingleton(WhereMisses, (s, _) => new Misses(s.GetRequiredService<TimeProvider>(), MostWhereMisses));
        return services.AddCounterLanguages();
    }

    public static void MapCounter(this IEndpointRouteBuilder app)
    {
        app.MapPictures();
        app.MapStart();
        app.MapClerk();
        app.MapOffers();
        app.MapStatus();
        app.MapTicket();
    }
}

using ShopFloor.Web.Background.Sending;

namespace ShopFloor.Web.Office.Sending;

/// <summary>What a webhook is called for, in words: keys of the Office's texts.</summary>
public static class EventWords
{
    /// <param name="what">One of <see cref="OrderNews.All"/>.</param>
    public static string Of(string what) =>
        what switch
        {
            OrderNews.Booked => "An order is booked",
            OrderNews.PromiseMoved => "A promise is moved",
            OrderNews.Ready => "An order is ready",
            OrderNews.HandedOver => "An order is handed over",
            OrderNews.CalledOff => "An order is called off",
            _ => what,
        };
}

namespace ShopFloor.Web.Counter.Intake;

/// <summary>
/// The texts that customers accept, keys of the Counter's texts. A changed word here is a new version: <see cref="Booking.BookOrder.WordingVersion"/>
/// has to be raised with it.
/// </summary>
public static class Wordings
{
    public const string Contact = "You may keep my name and how to reach me for this order.";

    public const string Risk =
        "I know that my piece is heated far above boiling water and pressed hot, and that it can be damaged or lost in spite of all care. I want it worked on. If it is lost, I get back what it is worth as stated, up to the limit shown.";

    public const string Coarse = "I was told that a picture is too coarse for its size, and want it printed as it is.";

    public const string Rights = "I may use this picture and this text: I made them, or I am allowed to have them printed.";
}

namespace ShopFloor.Web.Counter.Intake;

/// <summary>The plan's reasons to leave a piece out, as they are said at the Counter.</summary>
public static class NoDayTexts
{
    /// <summary>The reason in a sentence for customers.</summary>
    /// <param name="reason">A word of the plan, see <see cref="ShopFloor.Planning.Exchange.LeftOut"/>.</param>
    public static string Plain(string reason) =>
        reason switch
        {
            "too large" => "It is too large for a rack, an oven or a press of ours.",
            "no station" => "A station it needs is missing, not warm enough, or has nobody who works there.",
            "no window" => "Our oven cannot heat it within the time that the coating allows.",
            "no coating" => "We have too little of a coating that it needs.",
            "no time" => "Our days are full as far as we plan ahead.",
            _ => "It waits for another piece that cannot be made.",
        };
}

namespace ShopFloor.Web.Wall.Reading;

/// <summary>What wants a person on the Wall: only what somebody must do something about in a known time.</summary>
/// <param name="Key">Stable name.</param>
/// <param name="Cause">What has happened.</param>
/// <param name="Consequence">What happens when nobody acts.</param>
/// <param name="Response">What to do.</param>
/// <param name="Time">How much time there is.</param>
/// <param name="Priority">1 first; the first three sound.</param>
/// <param name="Words">The row on the Wall: {0} what, {1} where.</param>
public sealed record UrgencyRule(string Key, string Cause, string Consequence, string Response, string Time, int Priority, string Words);

/// <summary>
/// The few rules by which the Wall calls for somebody, in order of urgency. Everything else on it is information. A written rule for each
/// alert follows the alarm management standard ISA-18.2, cited through public articles; the rules themselves are the workshop's own.
/// </summary>
public static class UrgencyRules
{
    /// <summary>How long before a longest time the Wall calls, at least: enough to walk over with heat gloves on.</summary>
    public static readonly TimeSpan LeastWarning = TimeSpan.FromMinutes(1);

    public static UrgencyRule Over { get; } =
        new(
            "over",
            "A step has run longer than its longest time.",
            "The coat is overbaked, the promoter or the wet coat is too old.",
            "End it now; the Bench asks what to do with the pieces.",
            "at once",
            1,
            "{0} too long: {1}, end it and decide"
        );

    public static UrgencyRule Unattended { get; } =
        new(
            "unattended",
            "An oven load must come out at a time when nobody who may do it is in the shop.",
            "The pieces stay in the oven until the next shift and are overbaked.",
            "Stay, come back for it, or take it out early and decide at the Bench.",
            "until its longest time",
            2,
            "Nobody is there to take {0} out by {1}"
        );

    public static UrgencyRule Near { get; } =
        new(
            "near",
            "A longest time will be over soon.",
            "The pieces get too old, or overbaked.",
            "Go there and end it.",
            "one minute, or a tenth of the longest time",
            3,
            "{0} ends soon: {1}, go now"
        );

    public static UrgencyRule Due { get; } =
        new(
            "due",
            "An oven load or a press session has reached its shortest time.",
            "The station stays taken; later the pieces are overbaked.",
            "Take it out.",
            "until its longest time",
            4,
            "{0} may come out: {1}"
        );

    public static UrgencyRule Late { get; } =
        new(
            "late",
            "A promise is over, or will be by the plan.",
            "The customer waits.",
            "Do this order first, or call the customer.",
            "today",
            5,
            "Promise missed: order {0}{1}"
        );

    public static UrgencyRule Aside { get; } =
        new(
            "aside",
            "Pieces promised within a day are put aside.",
            "Nobody works on them until somebody decides.",
            "Look at them and decide at the Bench.",
            "today",
            6,
            "Put aside, decide: {0}{1}"
        );

    /// <summary>All, most urgent first.</summary>
    public static IReadOnlyList<UrgencyRule> All { get; } = [Over, Unattended, Near, Due, Late, Aside];

    // By the key under which it was counted.
    private static readonly Dictionary<string, string> Short = new(StringComparer.Ordinal)
    {
        [Over.Key] = "Too long",
        [Unattended.Key] = "Nobody there",
        [Near.Key] = "Ends soon",
        [Due.Key] = "May come out",
    };

    /// <summary>What calls are counted under, in words: <c>near: since wipe promoter</c> is <c>Ends soon: Since wipe promoter</c>.</summary>
    public static string Words(string source)
    {
        if (source.Split(": ", 2) is not [var key, { Length: > 0 } about] || !Short.TryGetValue(key, out var words))
            return source;
        return $"{words}: {char.ToUpperInvariant(about[0])}{about[1..]}";
    }

    /// <summary>When the warning before a longest time begins.</summary>
    public static DateTimeOffset NearFrom(DateTimeOffset since, DateTimeOffset max)
    {
        var tenth = (max - since) / 10;
        var from = max - (tenth > LeastWarning ? tenth : LeastWarning);
        return from > since ? from : since;
    }
}

namespace ShopFloor.Documents.Letters;

/// <summary>Money that came in.</summary>
/// <param name="Day">When it came.</param>
/// <param name="Means">How: <c>cash</c>, <c>card</c>, <c>transfer</c>; else it was left of an earlier invoice and set off.</param>
/// <param name="Amount">How much, above zero.</param>
public sealed record PaidPart(DateOnly Day, string Means, decimal Amount);

/// <summary>How something was paid, in words.</summary>
public static class PaidSentences
{
    /// <summary>The sentence on a document that is paid when it is issued.</summary>
    /// <param name="parts">What was paid; at least one.</param>
    /// <param name="reader">Who reads it.</param>
    public static string Of(IReadOnlyList<PaidPart> parts, LetterReader reader) =>
        parts is [var only]
            ? Whole(only.Means, reader.Day(only.Day), reader)
            : reader.Say("Paid: {0}. Thank you.", string.Join("; ", parts.Select(p => Part(p, reader))));

    private static string Whole(string means, string day, LetterReader reader) =>
        means switch
        {
            "cash" => reader.Say("Paid in cash on {0}. Thank you.", day),
            "card" => reader.Say("Paid by card on {0}. Thank you.", day),
            "transfer" => reader.Say("Paid by transfer on {0}. Thank you.", day),
            _ => reader.Say("Paid by what was left of an earlier invoice, set off on {0}. Thank you.", day),
        };

    private static string Part(PaidPart part, LetterReader reader)
    {
        var (amount, day) = (reader.Amount(part.Amount), reader.Day(part.Day));
        return part.Means switch
        {
            "cash" => reader.Say("{0} in cash on {1}", amount, day),
            "card" => reader.Say("{0} by card on {1}", amount, day),
            "transfer" => reader.Say("{0} by transfer on {1}", amount, day),
            _ => reader.Say("{0} left of an earlier invoice, set off on {1}", amount, day),
        };
    }
}

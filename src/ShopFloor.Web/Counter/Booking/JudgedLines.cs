using System.Collections.Concurrent;

namespace ShopFloor.Web.Counter.Booking;

/// <summary>
/// Judges lines and remembers. Judging works out heat and price, which takes milliseconds, and the same line is asked for with every quote, at
/// the booking and for every row of a file that differs in its words only. What the workshop is like is part of the question.
/// </summary>
public sealed class JudgedLines
{
    private const int Most = 500;
    private ConcurrentDictionary<(string Facts, LineInput Line, bool Rush, string Group), JudgedLine> known = [];

    /// <summary>The line judged.</summary>
    public JudgedLine Of(LineInput line, ShopFacts shop, bool rush, string? group)
    {
        // Words can be wrong by themselves; a line without faults is judged by everything else.
        if (LineFaults.Of(line).Any())
            return JudgeLine.Of(line, shop, rush, group);
        var plain = line with { Texts = [], Photos = [], SecondSide = false, Piece = line.Piece with { Note = "" } };
        if (known.Count > Most)
            known = [];
        return known.GetOrAdd((shop.Stamp, plain, rush, group ?? ""), _ => JudgeLine.Of(plain, shop, rush, group));
    }
}

using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Shared;
using ShopFloor.Web.Wall.Parts;
using ShopFloor.Web.Wall.Reading;

namespace ShopFloor.Web.Bench.Parts;

/// <summary>How many pieces of a planned batch can begin, and until when the others still rest.</summary>
public static class ReadyWords
{
    /// <summary>What Wall and Bench call a planned batch, e.g. <c>Load B</c>.</summary>
    public static string NameOf(NextBatch batch, Spoken words) =>
        $"{words[batch.Kind switch
        {
            BatchKind.SprayRound => "Round",
            BatchKind.OvenLoad => "Load",
            _ => "Session",
        }]} {batch.Name}";

    /// <summary>E.g. <c>9 of 14 ready, 5 flash off until 10:42</c>.</summary>
    public static string Of(NextBatch batch, TimeZoneInfo zone, Spoken words)
    {
        if (batch.Resting is not { } resting)
            return words["{0} of {1} ready", batch.Ready.Count, batch.Pieces];
        var until = WallTime.Of(resting.Until, zone, words);
        var ready = batch.Ready.Count - resting.Count;
        return resting.Cools
            ? words["{0} of {1} ready, {2} cool until {3}", ready, batch.Pieces, resting.Count, until]
            : words["{0} of {1} ready, {2} flash off until {3}", ready, batch.Pieces, resting.Count, until];
    }
}

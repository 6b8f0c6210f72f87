namespace ShopFloor.Domain.Yield;

/// <summary>Finds the smallest whole number that will do, where every larger one does, too.</summary>
internal static class Smallest
{
    /// <summary>The smallest number for which <paramref name="enough"/> holds; null: none up to <paramref name="most"/>.</summary>
    /// <param name="least">None below is asked for.</param>
    /// <param name="most">None above is asked for.</param>
    /// <param name="near">Where it probably lies; a poor guess costs some more questions, never the answer.</param>
    /// <param name="enough">False up to some number, then true for good. It is asked some twenty times, however far the ends are apart.</param>
    internal static int? From(int least, int most, int near, Func<int, bool> enough)
    {
        // Away from the guess in steps that double until the answer lies between two numbers, then by halves.
        var at = Math.Clamp(near, least, most);
        var (tooFew, suffices) = (least - 1, most + 1);
        for (var step = 1; tooFew + 1 < suffices && at > tooFew && at < suffices; step *= 2)
        {
            if (enough(at))
                (suffices, at) = (at, Math.Max(tooFew, at - step));
            else
                (tooFew, at) = (at, Math.Min(suffices, at + step));
            if (tooFew >= least && suffices <= most)
                break;
        }
        while (tooFew + 1 < suffices)
        {
            var middle = tooFew + (suffices - tooFew) / 2;
            (tooFew, suffices) = enough(middle) ? (tooFew, middle) : (middle, suffices);
        }
        return suffices > most ? null : suffices;
    }
}

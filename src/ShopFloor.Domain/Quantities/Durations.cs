namespace ShopFloor.Domain.Quantities;

/// <summary>Times as people say them.</summary>
internal static class Durations
{
    /// <summary>Under two minutes in seconds, under two hours in minutes, else in hours and minutes.</summary>
    public static string InWords(double seconds) =>
        seconds switch
        {
            < 120 => $"{seconds:0} s",
            < 7200 => $"{seconds / 60:0.#} min",
            _ => $"{Math.Floor(seconds / 3600):0} h {Math.Floor(seconds % 3600 / 60):0} min",
        };
}

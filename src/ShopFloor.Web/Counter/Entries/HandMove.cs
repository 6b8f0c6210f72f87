namespace ShopFloor.Web.Counter.Entries;

/// <summary>A finished drag or pinch as the page's script reports it.</summary>
/// <param name="Right">To the right, in shares of the part shown.</param>
/// <param name="Down">Down.</param>
/// <param name="Zoom">Closer above 1.</param>
public readonly record struct HandMove(double Right, double Down, double Zoom)
{
    /// <summary>Reads <c>right down zoom</c>; null for anything else, however it came here.</summary>
    public static HandMove? Read(string? text)
    {
        var parts = (text ?? "").Split(' ');
        if (parts.Length != 3)
            return null;
        var numbers = new double[3];
        for (var i = 0; i < 3; i++)
            if (
                !double.TryParse(parts[i], NumberStyles.Float, CultureInfo.InvariantCulture, out numbers[i])
                || !double.IsFinite(numbers[i])
                || Math.Abs(numbers[i]) > 100
            )
                return null;
        return numbers[2] > 0 ? new HandMove(numbers[0], numbers[1], numbers[2]) : null;
    }
}

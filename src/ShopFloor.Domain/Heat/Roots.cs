namespace ShopFloor.Domain.Heat;

/// <summary>Where a continuous function crosses zero.</summary>
internal static class Roots
{
    /// <summary>The crossing between two ends whose values differ in sign, to the last bit that halving can reach.</summary>
    public static double Bisect(Func<double, double> function, double low, double high)
    {
        var risesToHigh = function(high) > 0;
        for (var i = 0; i < 200; i++)
        {
            var middle = low + ((high - low) / 2);
            if (middle <= Math.Min(low, high) || middle >= Math.Max(low, high))
            {
                break;
            }

            if (function(middle) > 0 == risesToHigh)
            {
                high = middle;
            }
            else
            {
                low = middle;
            }
        }

        return low + ((high - low) / 2);
    }
}

namespace ShopFloor.Domain.Colour;

/// <summary>
/// Colour difference after ISO/CIE 11664-6. Written after Sharma, Wu and Dalal, "The CIEDE2000 color-difference formula: implementation
/// notes, supplementary test data, and mathematical observations", Color Research and Application 30 (2005).
/// </summary>
public static class Ciede2000
{
    private const double TwentyFiveTo7th = 6103515625;

    /// <summary>ΔE₀₀ with all weights 1; 0 for equal colours, about 1 is just noticeable, symmetric in its arguments.</summary>
    public static double Difference(Lab first, Lab second)
    {
        var meanChroma = (Hypot(first.A, first.B) + Hypot(second.A, second.B)) / 2;
        var stretch = 1.5 - (0.5 * Math.Sqrt(Power7(meanChroma) / (Power7(meanChroma) + TwentyFiveTo7th)));
        var (a1, a2) = (first.A * stretch, second.A * stretch);
        var (c1, c2) = (Hypot(a1, first.B), Hypot(a2, second.B));
        var (h1, h2) = (HueDegrees(a1, first.B), HueDegrees(a2, second.B));
        var hueStep = HueStepDegrees(c1 * c2, h1, h2);

        var lightness = second.L - first.L;
        var chroma = c2 - c1;
        var hue = 2 * Math.Sqrt(c1 * c2) * SinDegrees(hueStep / 2);

        var meanLightness = (first.L + second.L) / 2;
        var mean = (c1 + c2) / 2;
        var meanHue = MeanHueDegrees(c1 * c2, h1, h2);
        var t =
            1
            - (0.17 * CosDegrees(meanHue - 30))
            + (0.24 * CosDegrees(2 * meanHue))
            + (0.32 * CosDegrees((3 * meanHue) + 6))
            - (0.20 * CosDegrees((4 * meanHue) - 63));
        var fromFifty = (meanLightness - 50) * (meanLightness - 50);
        var lightnessWeight = 1 + (0.015 * fromFifty / Math.Sqrt(20 + fromFifty));
        var chromaWeight = 1 + (0.045 * mean);
        var hueWeight = 1 + (0.015 * mean * t);

        var (l, c, h) = (lightness / lightnessWeight, chroma / chromaWeight, hue / hueWeight);
        return Math.Sqrt(Math.Max(0, (l * l) + (c * c) + (h * h) + (Rotation(mean, meanHue) * c * h)));
    }

    private static double Rotation(double meanChroma, double meanHue)
    {
        var fromBlue = (meanHue - 275) / 25;
        var turn = 30 * Math.Exp(-fromBlue * fromBlue);
        var weight = 2 * Math.Sqrt(Power7(meanChroma) / (Power7(meanChroma) + TwentyFiveTo7th));
        return -SinDegrees(2 * turn) * weight;
    }

    private static double HueStepDegrees(double chromaProduct, double h1, double h2)
    {
        if (chromaProduct.Equals(0.0))
        {
            return 0;
        }

        var step = h2 - h1;
        return step switch
        {
            > 180 => step - 360,
            < -180 => step + 360,
            _ => step,
        };
    }

    private static double MeanHueDegrees(double chromaProduct, double h1, double h2)
    {
        var sum = h1 + h2;
        if (chromaProduct.Equals(0.0))
        {
            return sum;
        }

        if (Math.Abs(h1 - h2) <= 180)
        {
            return sum / 2;
        }

        return sum < 360 ? (sum + 360) / 2 : (sum - 360) / 2;
    }

    private static double HueDegrees(double a, double b)
    {
        if (a.Equals(0.0) && b.Equals(0.0))
        {
            return 0;
        }

        var degrees = double.RadiansToDegrees(Math.Atan2(b, a));
        return degrees < 0 ? degrees + 360 : degrees;
    }

    private static double Hypot(double a, double b) => Math.Sqrt((a * a) + (b * b));

    private static double Power7(double x)
    {
        var cube = x * x * x;
        return cube * cube * x;
    }

    private static double SinDegrees(double degrees) => Math.Sin(double.DegreesToRadians(degrees));

    private static double CosDegrees(double degrees) => Math.Cos(double.DegreesToRadians(degrees));
}

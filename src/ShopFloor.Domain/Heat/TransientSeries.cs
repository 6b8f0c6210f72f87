namespace ShopFloor.Domain.Heat;

/// <summary>
/// The exact one-dimensional solution for a plate, long cylinder or ball that is put into surroundings of constant temperature with a
/// constant coefficient: a sum of decaying terms whose roots are found by halving, not read from a chart (Incropera, Fundamentals of Heat
/// and Mass Transfer, ch. 5.5–5.6; Carslaw and Jaeger, Conduction of Heat in Solids).
/// </summary>
internal sealed class TransientSeries
{
    private readonly HeatShape shape;
    private readonly double biot;
    private readonly int terms;

    // Found when first needed: late times take one or two terms only.
    private readonly List<(double Root, double Factor)> found = [];

    /// <summary>Prepares the terms.</summary>
    /// <param name="shape">The body's shape.</param>
    /// <param name="biot">h·depth/k, with the full depth (half thickness or radius), above 0.</param>
    /// <param name="terms">Most terms to add up; the smaller the Fourier number, the more are needed.</param>
    public TransientSeries(HeatShape shape, double biot, int terms = 40)
    {
        this.shape = shape;
        this.biot = biot;
        this.terms = terms;
    }

    /// <summary>First root ζ₁.</summary>
    public double FirstRoot => Term(0).Root;

    /// <summary>First factor C₁.</summary>
    public double FirstFactor => Term(0).Factor;

    /// <summary>(T − T∞)/(T₀ − T∞) at a place.</summary>
    /// <param name="fourier">α·t/depth², above 0.</param>
    /// <param name="place">0 at the middle to 1 at the surface.</param>
    public double Remaining(double fourier, double place) => Sum(fourier, root => Shape(root * place));

    /// <summary>(T − T∞)/(T₀ − T∞), averaged over the body.</summary>
    /// <param name="fourier">α·t/depth², above 0.</param>
    public double RemainingMean(double fourier) => Sum(fourier, Mean);

    /// <summary>Fourier number at which the middle has only a share of the way to go.</summary>
    /// <param name="remaining">The share, above 0 and below 1.</param>
    public double FourierAtMiddle(double remaining)
    {
        // One term alone never comes out later than the sum by more than the neglected terms, and bounds it from above generously.
        var late = 1 + (Math.Log(FirstFactor / remaining) / (FirstRoot * FirstRoot));
        return Roots.Bisect(fourier => remaining - Remaining(fourier, 0), 1e-3, late);
    }

    private double Sum(double fourier, Func<double, double> profile)
    {
        var sum = 0.0;
        for (var n = 0; n < terms; n++)
        {
            var (root, factor) = Term(n);
            var decay = Math.Exp(-root * root * fourier);
            if (decay < 1e-18)
            {
                break;
            }

            sum += factor * profile(root) * decay;
        }

        return sum;
    }

    private (double Root, double Factor) Term(int n)
    {
        while (found.Count <= n)
        {
            var root = Root(shape, biot, found.Count);
            found.Add((root, Factor(shape, root)));
        }

        return found[n];
    }

    private double Shape(double x) =>
        shape switch
        {
            HeatShape.Plate => Math.Cos(x),
            HeatShape.Cylinder => Bessel.J0(x),
            _ => x < 1e-9 ? 1 : Math.Sin(x) / x,
        };

    private double Mean(double root) =>
        shape switch
        {
            HeatShape.Plate => Math.Sin(root) / root,
            HeatShape.Cylinder => 2 * Bessel.J1(root) / root,
            _ => 3 * (Math.Sin(root) - (root * Math.Cos(root))) / (root * root * root),
        };

    private static double Factor(HeatShape shape, double z) =>
        shape switch
        {
            HeatShape.Plate => 4 * Math.Sin(z) / ((2 * z) + Math.Sin(2 * z)),
            HeatShape.Cylinder => 2 / z * Bessel.J1(z) / ((Bessel.J0(z) * Bessel.J0(z)) + (Bessel.J1(z) * Bessel.J1(z))),
            _ => 4 * (Math.Sin(z) - (z * Math.Cos(z))) / ((2 * z) - Math.Sin(2 * z)),
        };

    /// <summary>The n-th root, each form of the equation written without poles so that halving cannot step over one.</summary>
    private static double Root(HeatShape shape, double biot, int n) =>
        shape switch
        {
            // ζ·tan ζ = Bi, between nπ and nπ + π/2.
            HeatShape.Plate => Roots.Bisect(z => (z * Math.Sin(z)) - (biot * Math.Cos(z)), n * Math.PI, (n + 0.5) * Math.PI),
            // ζ·J1/J0 = Bi, between the zeros of J1 and J0.
            HeatShape.Cylinder => Roots.Bisect(z => (z * Bessel.J1(z)) - (biot * Bessel.J0(z)), ZeroOfJ1(n), ZeroOfJ0(n)),
            // 1 − ζ·cot ζ = Bi, between nπ and (n + 1)π.
            _ => Roots.Bisect(z => ((1 - biot) * Math.Sin(z)) - (z * Math.Cos(z)), Math.Max(n * Math.PI, 1e-6), (n + 1) * Math.PI),
        };

    // McMahon's first terms (Abramowitz and Stegun 9.5.12) are within 0.1 of the zeros, so halving near them finds the zeros themselves.
    private static double ZeroOfJ0(int n)
    {
        var guess = (n + 0.75) * Math.PI;
        return Roots.Bisect(Bessel.J0, guess - 0.2, guess + 0.2);
    }

    private static double ZeroOfJ1(int n)
    {
        if (n == 0)
        {
            return 0;
        }

        var guess = (n + 0.25) * Math.PI;
        return Roots.Bisect(Bessel.J1, guess - 0.2, guess + 0.2);
    }
}

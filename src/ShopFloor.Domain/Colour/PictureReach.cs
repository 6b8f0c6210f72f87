using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Colour;

/// <summary>How much of a picture its ground cannot show.</summary>
/// <param name="UnreachableShare">Share of the pixels whose difference is over the threshold, lighter or darker, 0 to 1.</param>
/// <param name="GroundShare">
/// Share of the pixels that show the ground instead: lighter than it by more than the threshold and, where the ground is the bare material,
/// all that get no ink, 0 to 1.
/// </param>
/// <param name="LightenedShare">Share of the pixels that are darker than the surface can be, by more than the threshold, 0 to 1.</param>
/// <param name="MeanDeltaE">Mean difference ΔE₀₀ between wanted and nearest reachable colour.</param>
/// <param name="WorstDeltaE">Largest difference ΔE₀₀.</param>
public readonly record struct ReachOfPicture(
    double UnreachableShare,
    double GroundShare,
    double LightenedShare,
    double MeanDeltaE,
    double WorstDeltaE
);

/// <summary>Compares each pixel with the nearest colour that ink can reach on the ground: white and light areas turn to metal.</summary>
public static class PictureReach
{
    /// <summary>Difference from which a viewer who looks for it sees it: ΔE₀₀ 2, common practice, no source.</summary>
    public const double DefaultThreshold = 2;

    /// <summary>Least difference that can be set: a smaller one nobody sees.</summary>
    public const double LeastThreshold = 0.5;

    /// <summary>Largest difference that can be set.</summary>
    public const double MostThreshold = 50;

    // Pixels are counted in cells of 6 bits per channel, so that each colour is compared once however often it occurs.
    private const int Bits = 6;
    private const int Cells = 1 << (3 * Bits);

    /// <summary>The share that cannot be reached.</summary>
    /// <param name="rgba">Pixels as for <see cref="GroundPreview"/>; fully transparent ones do not count, as nothing is wanted there.</param>
    /// <param name="look">The print's look.</param>
    /// <param name="thresholdDeltaE">Difference that counts as missed, 0.5 to 50.</param>
    public static Result<Explained<ReachOfPicture>> Of(ReadOnlySpan<byte> rgba, PrintLook look, double thresholdDeltaE = DefaultThreshold)
    {
        var counts = Count(rgba);
        return new Entered()
            .Between(thresholdDeltaE, LeastThreshold, MostThreshold, "The difference that counts")
            .That(rgba.Length > 0 && rgba.Length % 4 == 0, "no-pixels", "The picture has no pixels.", nameof(rgba))
            .Then<Explained<ReachOfPicture>>(() => Explained(Measure(counts, look, thresholdDeltaE), look, thresholdDeltaE));
    }

    private static int[] Count(ReadOnlySpan<byte> rgba)
    {
        var counts = new int[Cells];
        for (var i = 0; i + 3 < rgba.Length; i += 4)
        {
            var alpha = rgba[i + 3];
            if (alpha == 0)
            {
                continue;
            }

            var r = GroundPreview.OverPaper(rgba[i], alpha) >> (8 - Bits);
            var g = GroundPreview.OverPaper(rgba[i + 1], alpha) >> (8 - Bits);
            var b = GroundPreview.OverPaper(rgba[i + 2], alpha) >> (8 - Bits);
            counts[(((r << Bits) | g) << Bits) | b]++;
        }

        return counts;
    }

    private static ReachOfPicture Measure(int[] counts, PrintLook look, double threshold)
    {
        const int Mask = (1 << Bits) - 1;
        var (pixels, missed, ground, lightened) = (0L, 0L, 0L, 0L);
        var (sum, worst) = (0.0, 0.0);
        for (var cell = 0; cell < counts.Length; cell++)
        {
            if (counts[cell] == 0)
            {
                continue;
            }

            var wanted = new LinearRgb(Light(cell >> (2 * Bits)), Light((cell >> Bits) & Mask), Light(cell & Mask));
            var difference = DeltaE(wanted, look);
            pixels += counts[cell];
            missed += difference > threshold ? counts[cell] : 0;
            ground += ShowsGround(wanted, look, threshold) ? counts[cell] : 0;
            lightened += Between(wanted, look.NoDarker(wanted)) > threshold ? counts[cell] : 0;
            sum += difference * counts[cell];
            worst = Math.Max(worst, difference);
        }

        double Share(long some) => some / (double)pixels;
        return pixels == 0 ? default : new(Share(missed), Share(ground), Share(lightened), sum / pixels, worst);
    }

    // On bare material the least difference tells: what gets no ink is the material, however near white that is.
    private static bool ShowsGround(LinearRgb wanted, PrintLook look, double threshold) =>
        (look.IsBare && look.LeavesBare(wanted)) || Between(wanted, look.NoLighter(wanted)) > threshold;

    /// <summary>Difference between a wanted colour and the nearest one that ink can reach.</summary>
    /// <param name="wanted">The wanted colour.</param>
    /// <param name="look">The print's look.</param>
    public static double DeltaE(LinearRgb wanted, PrintLook look) => Between(wanted, look.Reachable(wanted));

    private static double Between(LinearRgb wanted, LinearRgb shown) =>
        shown == wanted ? 0 : Ciede2000.Difference(wanted.ToLab(), shown.ToLab());

    // A cell stands for its ends at black and white and for about its middle between, so that white stays white.
    private static double Light(int step) => Srgb.Decode(step / (double)((1 << Bits) - 1));

    private static Explained<ReachOfPicture> Explained(ReachOfPicture reach, PrintLook look, double threshold) =>
        Explain.As(
            reach,
            $"{reach.GroundShare:P0} turns to the ground's colour",
            [
                ExplainedInput.Of("lightness of the ground without ink, L*", look.Reflectance(LinearRgb.White).ToLab().L),
                ExplainedInput.Of("difference that counts, ΔE₀₀", threshold),
                ExplainedInput.Of("mean difference, ΔE₀₀", reach.MeanDeltaE),
                ExplainedInput.Of("worst difference, ΔE₀₀", reach.WorstDeltaE),
            ],
            "each pixel's wanted colour against the nearest that ink can reach on this ground (never lighter than the ground itself); on bare material all that gets no ink counts as the ground's colour",
            "CIEDE2000: ISO/CIE 11664-6; double pass of light through ink (Beer–Lambert); ground: published optical constants",
            isEstimate: true,
            "Screen and print differ: a test piece shows the real colours."
        );
}

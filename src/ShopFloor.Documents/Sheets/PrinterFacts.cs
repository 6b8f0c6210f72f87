using ShopFloor.Documents.Pdf;
using ShopFloor.Domain;

namespace ShopFloor.Documents.Sheets;

/// <summary>What the sheets must know about the printer they are for.</summary>
/// <param name="Name">What people call it.</param>
/// <param name="Unprintable">The rim that the printer cannot reach.</param>
/// <param name="CorrectionX">Factor across: what should be over what is measured on its calibration page.</param>
/// <param name="CorrectionY">Factor along the feed.</param>
/// <param name="DriverMirrors">The printer's own driver is set to mirror: then the sheet is made so that the paper is right all the same.</param>
public sealed record PrinterFacts(
    string Name,
    InsetsMm Unprintable,
    double CorrectionX = 1,
    double CorrectionY = 1,
    bool DriverMirrors = false
)
{
    /// <summary>A correction beyond this is no printer's tolerance but a scaling left on in the print dialogue.</summary>
    public const double LargestCorrection = 0.03;

    /// <summary>The correction for one axis from what was measured on the calibration page.</summary>
    /// <param name="shouldBeMm">The length that was printed.</param>
    /// <param name="measuredMm">The length on the paper.</param>
    /// <param name="correctionThen">The correction that the page was printed with.</param>
    /// <param name="field">The input field, for a refusal.</param>
    public static Result<double> CorrectionFrom(double shouldBeMm, double measuredMm, double correctionThen, string field)
    {
        if (!(measuredMm > 0))
            return new Refusal("measure-missing", "Enter the length that you measured on the paper, in millimetres.", field);
        var correction = shouldBeMm / measuredMm * correctionThen;
        if (Math.Abs(correction - 1) > LargestCorrection)
            return new Refusal(
                "measure-far-off",
                FormattableString.Invariant(
                    $"{measuredMm:0.#} mm instead of {shouldBeMm:0.#} mm is too far off for a printer. Set the print dialogue to 100 % (no fitting to the page) and print the page again."
                ),
                field
            );
        return Math.Round(correction, 5);
    }
}

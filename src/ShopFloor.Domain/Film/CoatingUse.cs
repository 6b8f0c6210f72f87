using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Film;

/// <summary>What one spray round takes from the can.</summary>
/// <param name="Millilitres">Coating for the round in ml.</param>
/// <param name="AloneMillilitres">Coating if each piece were sprayed by itself, in ml.</param>
public readonly record struct RoundUse(double Millilitres, double AloneMillilitres)
{
    /// <summary>What laying the pieces close together saves, in ml; at least 0.</summary>
    public double SavedMillilitres => Math.Max(0, AloneMillilitres - Millilitres);
}

/// <summary>Cans to take from the shelf for a job.</summary>
/// <param name="NewCans">Full cans to open.</param>
/// <param name="LeftMillilitres">What is left afterwards in the last can, in ml.</param>
public readonly record struct CansNeeded(int NewCans, double LeftMillilitres);

/// <summary>How much coating the pieces take.</summary>
public static class CoatingUse
{
    private const string Formula =
        "sprayed area (face plus overspray on each side, overlaps once) · coats ÷ (spreading rate · transfer efficiency); "
        + "spreading rate [m²/l] = 10 · volume solids [%] ÷ dry film [µm]";

    private const string Source =
        "spreading rate: published coverage formula (1 l of solids covers 1000 m² at 1 µm); solids, transfer and overspray: own numbers";

    /// <summary>Coating in ml for one piece that is sprayed by itself.</summary>
    /// <param name="faceWidthMm">Width of the face's bounding box, above 0 to 3000 mm.</param>
    /// <param name="faceHeightMm">Height of the face's bounding box, above 0 to 3000 mm.</param>
    /// <param name="coats">Coats, 1 to 20.</param>
    /// <param name="film">The coating's settings.</param>
    public static Result<Explained<double>> MillilitresPerPiece(double faceWidthMm, double faceHeightMm, int coats, FilmSettings film) =>
        film.Check(new Entered())
            .Positive(faceWidthMm, 3000, "The width", "mm")
            .Positive(faceHeightMm, 3000, "The height", "mm")
            .Between(coats, 1, 20, "The number of coats")
            .Then<Explained<double>>(() =>
            {
                var sprayed = new SprayedRectangle(0, 0, faceWidthMm, faceHeightMm).GrownBy(film.OverspraySideMm);
                var millilitres = sprayed.AreaSquareMm * coats * film.MillilitresPerSquareMm;
                return Explain.As(
                    millilitres,
                    $"{millilitres:0.0} ml",
                    [
                        ExplainedInput.Of("width", faceWidthMm, "mm"),
                        ExplainedInput.Of("height", faceHeightMm, "mm"),
                        ExplainedInput.Of("coats", coats),
                        .. film.Inputs,
                    ],
                    Formula,
                    Source
                );
            });

    /// <summary>Coating for pieces sprayed one after another as they lie; where their overspray overlaps it counts once.</summary>
    /// <param name="pieces">The faces as they lie in the booth, 1 to 500, each above 0 to 3000 mm.</param>
    /// <param name="coats">Coats, 1 to 20.</param>
    /// <param name="film">The coating's settings.</param>
    public static Result<Explained<RoundUse>> ForRound(IReadOnlyList<SprayedRectangle> pieces, int coats, FilmSettings film) =>
        film.Check(new Entered())
            .Between(pieces.Count, 1, 500, "The number of pieces", "", nameof(pieces))
            .Between(coats, 1, 20, "The number of coats")
            .That(
                pieces.All(p => p is { WidthMm: > 0 and <= 3000, HeightMm: > 0 and <= 3000 } && double.IsFinite(p.XMm + p.YMm)),
                "number-out-of-range",
                "Each face must be more than 0 and at most 3000 mm wide and high.",
                nameof(pieces)
            )
            .Then<Explained<RoundUse>>(() =>
            {
                SprayedRectangle[] swept = [.. pieces.Select(p => p.GrownBy(film.OverspraySideMm))];
                var perSquareMm = film.MillilitresPerSquareMm * coats;
                var use = new RoundUse(SprayedRectangle.UnionSquareMm(swept) * perSquareMm, swept.Sum(s => s.AreaSquareMm) * perSquareMm);
                return Explain.As(
                    use,
                    $"{use.Millilitres:0.0} ml, saves {use.SavedMillilitres:0.0} ml",
                    [ExplainedInput.Of("pieces", pieces.Count), ExplainedInput.Of("coats", coats), .. film.Inputs],
                    Formula,
                    Source
                );
            });

    /// <summary>How many full cans a job opens, and what is left.</summary>
    /// <param name="neededMillilitres">Coating for the job, 0 to 1 000 000 ml.</param>
    /// <param name="openCanMillilitres">Left in the open can, 0 to 5000 ml; 0 when none is open.</param>
    /// <param name="canMillilitres">Content of a full can, above 0 to 5000 ml.</param>
    public static Result<Explained<CansNeeded>> Cans(double neededMillilitres, double openCanMillilitres, double canMillilitres) =>
        new Entered()
            .Between(neededMillilitres, 0, 1_000_000, "The coating needed", "ml")
            .Between(openCanMillilitres, 0, 5000, "The content of the open can", "ml")
            .Positive(canMillilitres, 5000, "The content of a full can", "ml")
            .Then<Explained<CansNeeded>>(() =>
            {
                var missing = Math.Max(0, neededMillilitres - openCanMillilitres);
                // A millionth of a can is rounding, not a reason to open another.
                var cans = (int)Math.Ceiling((missing / canMillilitres) - 1e-6);
                var left = Math.Max(0, openCanMillilitres + (cans * canMillilitres) - neededMillilitres);
                return Explain.As(
                    new CansNeeded(cans, left),
                    $"{cans} new, {left:0} ml left",
                    [
                        ExplainedInput.Of("needed", neededMillilitres, "ml"),
                        ExplainedInput.Of("in the open can", openCanMillilitres, "ml"),
                        ExplainedInput.Of("full can", canMillilitres, "ml"),
                    ],
                    "(needed − open can) ÷ full can, rounded up to whole cans",
                    "arithmetic"
                );
            });

    /// <summary>Stock at which to order again: use during delivery plus a reserve for days that need more.</summary>
    /// <param name="millilitresPerDay">Average use a day, 0 to 100 000 ml.</param>
    /// <param name="deliveryDays">Days from order to delivery, 0 to 365.</param>
    /// <param name="reserveDays">Days of use kept in reserve, 0 to 365.</param>
    /// <returns>The stock in ml.</returns>
    public static Result<Explained<double>> ReorderPointMillilitres(double millilitresPerDay, double deliveryDays, double reserveDays) =>
        new Entered()
            .Between(millilitresPerDay, 0, 100_000, "The use a day", "ml")
            .Between(deliveryDays, 0, 365, "The delivery time", "days")
            .Between(reserveDays, 0, 365, "The reserve", "days")
            .Then<Explained<double>>(() =>
            {
                var stock = millilitresPerDay * (deliveryDays + reserveDays);
                return Explain.As(
                    stock,
                    $"{stock:0} ml",
                    [
                        ExplainedInput.Of("use a day", millilitresPerDay, "ml"),
                        ExplainedInput.Of("delivery", deliveryDays, "days"),
                        ExplainedInput.Of("reserve", reserveDays, "days"),
                    ],
                    "use a day · (delivery days + reserve days)",
                    Explanation.CommonPractice
                );
            });
}

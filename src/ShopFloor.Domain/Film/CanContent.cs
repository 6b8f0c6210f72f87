using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Film;

/// <summary>How much is left in a can, by its weight.</summary>
public static class CanContent
{
    /// <summary>Millilitres left = (can as it is − empty can) ÷ density of the content.</summary>
    /// <param name="grossGrams">Can as it is, cap off, above 0 to 2000 g.</param>
    /// <param name="emptyGrams">The same can when empty, above 0 to 2000 g.</param>
    /// <param name="densityGMl">Density of the whole content, 0.4 to 2 g/ml: net weight over net volume on the label.</param>
    /// <param name="fullMl">Content of the full can, above 0 to 20 000 ml; a weighing that finds more than 5 % over it is refused.</param>
    public static Result<Explained<double>> LeftMillilitres(double grossGrams, double emptyGrams, double densityGMl, double fullMl) =>
        new Entered()
            .Positive(grossGrams, 2000, "The can's weight", "g", "gross")
            .Positive(emptyGrams, 2000, "The empty can", "g", "empty")
            .Between(densityGMl, 0.4, 2, "The density of the content", "g/ml", "density")
            .Positive(fullMl, 20_000, "The full can", "ml", "full")
            .That(grossGrams >= emptyGrams, "lighter-than-empty", "It cannot be lighter than an empty can: check scale and cap.", "gross")
            .Then<Explained<double>>(() => Answer(grossGrams, emptyGrams, densityGMl, fullMl))
            .Then(left =>
                new Entered()
                    .That(left.Value <= fullMl * 1.05, "heavier-than-full", "It is heavier than a full can: check scale and cap.", "gross")
                    .Then<Explained<double>>(() => left)
            );

    private static Explained<double> Answer(double gross, double empty, double density, double full)
    {
        var left = (gross - empty) / density;
        return Explain.As(
            left,
            $"{left:0} ml",
            [
                ExplainedInput.Of("can as it is", gross, "g"),
                ExplainedInput.Of("empty can", empty, "g"),
                ExplainedInput.Of("density of the content", density, "g/ml"),
                ExplainedInput.Of("full can", full, "ml"),
            ],
            "left = (can as it is − empty can) ÷ density",
            "conservation of mass"
        );
    }
}

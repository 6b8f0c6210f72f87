using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Workshop;

namespace ShopFloor.Web.Bench.Reading;

/// <summary>
/// The usual cautions of a step on a material, shown where the step is done. They defer to the data sheet of the coating, to local
/// codes and to licensed practice, which rule where they say otherwise.
/// </summary>
public static class Cautioned
{
    /// <summary>Stands under every list.</summary>
    public const string WhatRules = "Data sheets, local rules and trained people come first.";

    /// <summary>The cautions, most dangerous first.</summary>
    /// <param name="step">The step.</param>
    /// <param name="material">What the piece is of.</param>
    /// <param name="shop">Its numbers for the air to spray in.</param>
    public static IReadOnlyList<string> For(RecipeStep step, MaterialSheet material, WorkshopProfile shop) =>
        [.. OfStep(step), .. OfAir(step, shop), .. OfMaterial(step, material)];

    /// <summary>What is said of an old coat on a customer's piece; null: there is none. The cautions are common practice, no source.</summary>
    public static string? OldCoat(HiddenParts hidden) =>
        hidden.OldCoat switch
        {
            Answer.Yes =>
                "An old coat is on it: strip it first, then a test piece. Strippers burn skin and old paint can hold lead: gloves, mask, air moving, no dry sanding.",
            Answer.Unknown =>
                "An old coat may be on it: look first. Strip what there is, then a test piece. Strippers burn skin and old paint can hold lead: gloves, mask, air moving, no dry sanding.",
            _ => null,
        };

    private static string[] OfStep(RecipeStep step) =>
        step.Kind switch
        {
            StepKind.Clean => ["Degreaser: gloves on, air moving, no flame or spark near it."],
            StepKind.Wipe => ["Promoter is flammable and gives off vapour: air moving, gloves and mask as its data sheet says."],
            StepKind.Spray =>
            [
                "Spray mist catches fire: no flame, no spark, no hot oven near the booth. Extraction on.",
                "Mask and gloves as the data sheet of the can says.",
            ],
            StepKind.Cure =>
            [
                "Hot oven: heat gloves. Fresh coats give off vapour: flash off first, air moving.",
                "This oven is never used for food again.",
            ],
            StepKind.Dry => ["Hot oven: heat gloves. Steam when you open it.", "This oven is never used for food again."],
            StepKind.Press =>
            [
                "Hot platen: heat gloves, fingers clear when it closes.",
                RecipeRules.PeelOf(step) == RecipeRules.UsualPeel
                    ? "Peel hot, with heat gloves."
                    : "Peel cold: heat gloves, and leave the paper on until the piece can be touched.",
            ],
            StepKind.Tape => ["Warm piece: only when it can be touched."],
            StepKind.Pack => ["The coat is not for food and not for the dishwasher unless its maker says so: the care note goes in."],
            _ => [],
        };

    // A solvent leaves slowly in cold or damp air: 18 to 25 °C and at most 65 % are common practice, no source.
    private static IEnumerable<string> OfAir(RecipeStep step, WorkshopProfile shop)
    {
        if (step.Kind == StepKind.Spray || step is { Kind: StepKind.Rest, CoolToCelsius: null })
            yield return FormattableString.Invariant(
                $"Air from {shop.SprayFromCelsius:0.#} °C to {shop.SprayToCelsius:0.#} °C, humidity at most {shop.SprayMostHumidity:0.#} %: outside of that let it flash off longer."
            );
    }

    private static IEnumerable<string> OfMaterial(RecipeStep step, MaterialSheet material)
    {
        // Once the print is taped on it is too late; where it was forgotten, it is seen at the press.
        if (step.Kind is StepKind.Tape or StepKind.Press && Moisture.IsPressedOut(material))
            yield return "Wood: before the print goes on, press the bare piece for 5 to 10 s and let it cool, or its moisture blisters the coat.";
        if (!step.Kind.HasWindow())
            yield break;
        if (material.Class == MaterialClass.Glass)
            yield return "Hot glass cracks: eyes protected.";
        if (material.Class is MaterialClass.Ceramic or MaterialClass.Stone)
            yield return "Heavy and hot right through: both hands, and it stays hot long.";
        var rule = step.Kind == StepKind.Press ? material.Press : material.Cure;
        if (rule.Hazard == Hazard.Fume)
            yield return $"Fumes: {rule.Reason}";
    }
}

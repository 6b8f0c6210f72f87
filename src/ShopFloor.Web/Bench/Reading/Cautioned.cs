using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Recipes;

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
    public static IReadOnlyList<string> For(RecipeStep step, MaterialSheet material) =>
        [.. OfStep(step.Kind), .. OfMaterial(step, material)];

    private static string[] OfStep(StepKind kind) =>
        kind switch
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
            StepKind.Press => ["Hot platen: heat gloves, fingers clear when it closes.", "Peel hot, with heat gloves."],
            StepKind.Tape => ["Warm piece: only when it can be touched."],
            StepKind.Pack => ["The coat is not for food and not for the dishwasher unless its maker says so: the care note goes in."],
            _ => [],
        };

    private static IEnumerable<string> OfMaterial(RecipeStep step, MaterialSheet material)
    {
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

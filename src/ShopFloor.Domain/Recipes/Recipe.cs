using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Recipes;

/// <summary>One version of the list of steps that makes a finish. A version never changes; editing makes the next one.</summary>
public sealed class Recipe
{
    private Recipe() { }

    /// <summary>Names this version.</summary>
    public RecipeId Id { get; private set; }

    /// <summary>The finish it makes.</summary>
    public Finish Finish { get; private set; }

    /// <summary>Groups of materials it is for, e.g. <c>metal</c>, <c>glass</c>; empty: any that the finish suits.</summary>
    public string MaterialGroup { get; private set; } = "";

    /// <summary>What people call it.</summary>
    public string Name { get; private set; } = "";

    /// <summary>1, 2, 3 … within its name.</summary>
    public int Version { get; private set; }

    /// <summary>Orders booked from then on use it, until a later version begins.</summary>
    public DateTimeOffset EffectiveFrom { get; private set; }

    /// <summary>Key of the material that the windows were found with.</summary>
    public string ReferenceMaterial { get; private set; } = "";

    /// <summary>Thickness of the piece that the windows were found with.</summary>
    public Length ReferenceThickness { get; private set; }

    /// <summary>The steps in order.</summary>
    public IReadOnlyList<RecipeStep> Steps { get; private set; } = [];

    /// <summary>A new version.</summary>
    /// <returns>The recipe, or every fault of the list of steps with the step it is in.</returns>
    public static Result<Recipe> Create(
        RecipeId id,
        string name,
        int version,
        Finish finish,
        string materialGroup,
        DateTimeOffset effectiveFrom,
        (string Material, Length Thickness) reference,
        IReadOnlyList<RecipeStep> steps
    )
    {
        var faults = RecipeRules.Faults(steps);
        if (string.IsNullOrWhiteSpace(name) || name.Length > 80)
            faults.Add(new Refusal("name-missing", "Give the recipe a name of at most 80 characters.", "name"));
        return faults.Count > 0
            ? Result<Recipe>.Refused(faults)
            : new Recipe
            {
                Id = id,
                Name = name.Trim(),
                Version = version,
                Finish = finish,
                MaterialGroup = materialGroup,
                EffectiveFrom = effectiveFrom,
                ReferenceMaterial = reference.Material,
                ReferenceThickness = reference.Thickness,
                Steps = [.. steps],
            };
    }
}

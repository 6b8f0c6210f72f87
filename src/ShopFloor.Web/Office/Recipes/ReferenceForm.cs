using ShopFloor.Domain;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Recipes;

/// <summary>The piece that a recipe's times were found with; the times of other pieces are computed from it.</summary>
/// <param name="Material">Key of its material.</param>
/// <param name="Thickness">Its thickness.</param>
public sealed record RecipeReference(string Material, Length Thickness)
{
    /// <summary>Thickest reference piece, mm: beyond it nothing goes into a press.</summary>
    public const decimal MostMillimetres = 100;

    internal static RecipeReference Of(Recipe recipe) => new(recipe.ReferenceMaterial, recipe.ReferenceThickness);

    /// <summary>What is wrong with it as the reference of a recipe that had another before.</summary>
    internal async Task<IReadOnlyList<Refusal>> FaultsAsync(CommandWork work, RecipeReference before, CancellationToken cancel)
    {
        var faults = new List<Refusal>();
        if (Thickness.Millimetres is <= 0 or > MostMillimetres)
            faults.Add(new Refusal("reference-thickness", "Enter above 0 and at most 100 mm.", "reference-thickness"));
        if (Material == before.Material)
            return faults;
        var settings = await CurrentSettings.LoadAsync(work.Context, work.Now, cancel);
        if (settings.Material(Material).Thermal is null)
            faults.Add(new Refusal("reference-material", "Choose a material whose heat properties are known.", "reference-material"));
        return faults;
    }

    /// <summary>In a few words for the audit list.</summary>
    internal string Words => FormattableString.Invariant($"{Material}, {Thickness.Millimetres:0.###} mm");
}

/// <summary>The reference piece as typed.</summary>
public sealed class ReferenceForm(RecipeReference start)
{
    /// <summary>Key of its material.</summary>
    public string? Material { get; set; } = start.Material;

    /// <summary>Its thickness in millimetres.</summary>
    public string? Thickness { get; set; } = NumberText.Write(start.Thickness.Millimetres);

    /// <summary>What was entered, or why it cannot be read.</summary>
    public Result<RecipeReference> Read()
    {
        var read = NumberText.Read(Thickness, "reference-thickness");
        if (!read.IsOk)
            return Result<RecipeReference>.Refused(read.Refusals);
        return read.Value is <= 0 or > RecipeReference.MostMillimetres
            ? new Refusal("reference-thickness", "Enter above 0 and at most 100 mm.", "reference-thickness")
            : new RecipeReference(Material ?? "", Length.FromMillimetres(read.Value));
    }
}

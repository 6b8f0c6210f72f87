using ShopFloor.Domain;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Stock;

/// <summary>What is typed into a coating's page.</summary>
public sealed class CoatingForm(CoatingChoice row)
{
    /// <summary>What people call it.</summary>
    public string? Name { get; set; } = row.Name;

    /// <summary>The numbers.</summary>
    public NumberEntries<CoatingSettings> Numbers { get; private init; } = Of(row);

    /// <summary>What somebody else changed before this could be saved.</summary>
    public IReadOnlyList<ChangedField> Meanwhile { get; private init; } = [];

    /// <summary>What to save, or every field that cannot be read.</summary>
    public Result<CoatingInput> Read() => Numbers.Read().Then<CoatingInput>(s => new CoatingInput(row.Id, row.Version, Name ?? "", s));

    /// <summary>This form on the coating as somebody else left it: what was entered stays, the rest follows.</summary>
    public CoatingForm Follow(CoatingChoice now)
    {
        var meanwhile = new Meanwhile();
        return new CoatingForm(now)
        {
            Meanwhile = meanwhile.Fields,
            Name = meanwhile.Take("Name", Name, row.Name, now.Name),
            Numbers = Numbers.Follow(Of(row), Of(now), meanwhile),
        };
    }

    private static NumberEntries<CoatingSettings> Of(CoatingChoice row) => new(CoatingNumbers.All(), row.Settings);
}

using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Shared.Controls;

namespace ShopFloor.Web.Office.Workshop;

/// <summary>What there is to choose for texts of the profile that have few answers, from what the system knows.</summary>
public static class ProfileChoices
{
    private static readonly Lazy<IReadOnlyList<Choice<string>>> Countries = new(() =>
        [
            .. CultureInfo
                .GetCultures(CultureTypes.SpecificCultures)
                .Select(c => new RegionInfo(c.Name))
                .Where(r => Codes.IsCountry(r.TwoLetterISORegionName))
                .DistinctBy(r => r.TwoLetterISORegionName)
                .OrderBy(r => r.EnglishName, StringComparer.InvariantCulture)
                .Select(r => new Choice<string>(r.TwoLetterISORegionName, $"{r.EnglishName} ({r.TwoLetterISORegionName})")),
        ]
    );

    private static readonly Lazy<IReadOnlyList<Choice<string>>> Zones = new(() =>
        [
            .. TimeZoneInfo
                .GetSystemTimeZones()
                .Where(z => z.HasIanaId && (z.Id.Contains('/', StringComparison.Ordinal) || z.Id == "UTC"))
                .Where(z => !z.Id.StartsWith("Etc/", StringComparison.Ordinal))
                .OrderBy(z => z.Id, StringComparer.Ordinal)
                .Select(z => new Choice<string>(z.Id, z.Id)),
        ]
    );

    private static readonly IReadOnlyList<Choice<string>> Papers = [new("A4", "A4"), new("Letter", "Letter")];

    /// <summary>The choices of a text; null where it is typed. What is kept stays among them, though the system may not know it.</summary>
    /// <param name="name">Name of the text.</param>
    /// <param name="kept">What it is now.</param>
    public static IReadOnlyList<Choice<string>>? Of(string name, string kept)
    {
        var known = name switch
        {
            nameof(WorkshopProfile.Country) => Countries.Value,
            nameof(WorkshopProfile.TimeZone) => Zones.Value,
            nameof(WorkshopProfile.LettersOn) => Papers,
            _ => null,
        };
        return known is null || kept.Length == 0 || known.Any(c => c.Value == kept) ? known : [new(kept, kept), .. known];
    }
}

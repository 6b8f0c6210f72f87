using ShopFloor.Domain.Stations;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Stations;

/// <summary>An oven, and whether its air is the booth's.</summary>
public sealed class AirEntry(string code, string name, bool isShared)
{
    /// <summary>The oven's code.</summary>
    public string Code { get; } = code;

    /// <summary>What people call it.</summary>
    public string Name { get; } = name;

    /// <summary>Ticked: nothing is sprayed in the booth while this oven is hot.</summary>
    public bool IsShared { get; set; } = isShared;
}

/// <summary>What is ticked on a booth's page: the ovens that share its air.</summary>
public sealed class BoothAir(BoothSettings start, IReadOnlyList<StationRow> all)
{
    /// <summary>All ovens by code, those out of use among them.</summary>
    public IReadOnlyList<AirEntry> Ovens { get; } =
    [
        .. all.Where(s => s.Kind == StationKind.Oven)
            .OrderBy(s => s.Code, StringComparer.Ordinal)
            .Select(s => new AirEntry(s.Code, s.Name, start.SharesAirWith.Contains(s.Code))),
    ];

    /// <summary>The settings as ticked.</summary>
    public BoothSettings Read() => new([.. Ovens.Where(o => o.IsShared).Select(o => o.Code)]);

    /// <summary>Carries over what was ticked here to the form of the station as somebody else left it.</summary>
    public void Follow(BoothAir before, BoothAir now, Meanwhile meanwhile)
    {
        foreach (var oven in now.Ovens)
        {
            bool Of(BoothAir air) => air.Ovens.FirstOrDefault(o => o.Code == oven.Code)?.IsShared ?? false;
            oven.IsShared = meanwhile.Take(oven.Name, Of(this), Of(before), oven.IsShared, shared => shared ? "yes" : "no");
        }
    }
}

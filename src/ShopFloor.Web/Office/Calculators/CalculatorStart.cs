using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Calculators;

/// <summary>What the workshop brings along: its material list and the first oven, so that the fields start with its own numbers.</summary>
/// <param name="Materials">The material list with the owner's edits, by name.</param>
/// <param name="Oven">Settings of the first oven; shipped ones where there is none.</param>
/// <param name="RoomCelsius">The workshop's temperature in °C.</param>
public sealed record CalculatorStart(IReadOnlyList<MaterialSheet> Materials, OvenSettings Oven, decimal RoomCelsius)
{
    /// <summary>Colour difference that customers are told of, ΔE₀₀.</summary>
    public decimal VisibleDeltaE { get; init; } = 2;

    /// <summary>The sheet with that key; the unknown material's otherwise.</summary>
    public MaterialSheet Material(string key) => Materials.FirstOrDefault(m => m.Key == key) ?? ShippedMaterials.Unknown;

    /// <summary>All materials to choose from, and the unknown one.</summary>
    public IReadOnlyList<(string Key, string Text)> AllMaterials =>
        [.. Materials.Select(m => (m.Key, m.Name)), (ShippedMaterials.Unknown.Key, ShippedMaterials.Unknown.Name)];

    /// <summary>The materials whose heat properties are known.</summary>
    public IReadOnlyList<(string Key, string Text)> MeasuredMaterials =>
        [.. Materials.Where(m => m.Thermal is not null).Select(m => (m.Key, m.Name))];
}

/// <summary>Reads what the calculators start with.</summary>
public sealed class CalculatorStartView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>The start as it holds now.</summary>
    public async Task<CalculatorStart> LoadAsync(CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var settings = await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel);
        var stations = await context.Stations.AsNoTracking().Where(s => s.IsActive).OrderBy(s => s.Code).ToListAsync(cancel);
        var oven = stations.Select(s => s.Settings).OfType<OvenSettings>().FirstOrDefault() ?? new OvenSettings();
        return new CalculatorStart([.. settings.Materials.Values], oven, settings.Profile.RoomCelsius)
        {
            VisibleDeltaE = settings.Profile.VisibleDeltaE,
        };
    }
}

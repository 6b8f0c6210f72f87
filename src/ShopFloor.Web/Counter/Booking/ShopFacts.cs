using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Heat;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Office.Settings;
using HeatOven = ShopFloor.Domain.Heat.OvenSettings;
using StationOven = ShopFloor.Domain.Stations.OvenSettings;

namespace ShopFloor.Web.Counter.Booking;

/// <summary>All that quoting and booking must know of the workshop, read once.</summary>
public sealed record ShopFacts(
    CurrentSettings Settings,
    IReadOnlyList<Recipe> Recipes,
    IReadOnlyList<Station> Stations,
    IReadOnlyList<Coating> Coatings,
    IReadOnlyList<StockItem> Items,
    DateTimeOffset At
)
{
    /// <summary>Two facts with the same stamp judge alike.</summary>
    public string Stamp { get; } =
        string.Join(
            ' ',
            [
                Settings.Stamp,
                .. new[] { true, false }.Select(own => Settings.TaxPercentOf(own, Settings.Day(At)).ToString(CultureInfo.InvariantCulture)),
                .. Recipes.Select(r => $"{r.Id.Value:N}.{r.Version}"),
                .. Stations.Select(s => $"{s.Id.Value:N}.{s.Version}"),
                .. Coatings.Select(c => $"{c.Id.Value:N}.{c.Version}.{c.Settings.CanPriceOn(Settings.Day(At))}"),
                .. Items.Where(i => i.BlankJson.Length > 0).Select(i => $"{i.Code}.{i.PriceOn(Settings.Day(At))}"),
            ]
        );

    /// <summary>Reads what holds at that instant.</summary>
    public static async Task<ShopFacts> LoadAsync(ShopContext context, DateTimeOffset at, CancellationToken cancel) =>
        new(
            await CurrentSettings.LoadAsync(context, at, cancel),
            await context
                .Recipes.AsNoTracking()
                .Where(r => r.EffectiveFrom <= at)
                .OrderBy(r => r.Name)
                .ThenBy(r => r.Version)
                .ToListAsync(cancel),
            await context.Stations.AsNoTracking().Where(s => s.IsActive).OrderBy(s => s.Code).ToListAsync(cancel),
            await context.Coatings.AsNoTracking().OrderBy(c => c.Code).ToListAsync(cancel),
            await context.StockItems.AsNoTracking().OrderBy(i => i.Code).ToListAsync(cancel),
            at
        );

    /// <summary>The tax on what is agreed now, in percent.</summary>
    /// <param name="isOwn">Work on a customer's own piece; else a blank of the workshop.</param>
    public decimal TaxPercentOf(bool isOwn) => Settings.TaxPercentOf(isOwn, Settings.Day(At));

    /// <summary>The recipe in force for a finish on a material: the one for its class before the general one, the latest version.</summary>
    public Recipe? RecipeFor(Finish finish, MaterialSheet material) => RecipeChoice.For(Recipes, finish, material);

    /// <summary>Finishes that suit a material at all: behind glass is for glass, and glass alone is looked through.</summary>
    public IReadOnlyList<Finish> FinishesFor(MaterialSheet material) =>
        [.. Enum.GetValues<Finish>().Where(f => Suits(f, material) && RecipeFor(f, material) is not null)];

    /// <summary>True when a finish makes sense on a material.</summary>
    public static bool Suits(Finish finish, MaterialSheet material) =>
        finish != Finish.BehindGlass || material.Class == MaterialClass.Glass;

    /// <summary>What the shelves and platens take.</summary>
    public IReadOnlyList<SizeReach> Sizes { get; } = [.. Stations.SelectMany(s => SizeReach.Of(s.Settings))];

    /// <summary>True when there is a press for cylinders.</summary>
    public bool HasWrapPress => Stations.Any(s => s.Settings is PressSettings { Wraps: true });

    /// <summary>The workshop as fitting a piece needs it.</summary>
    public FittingWorkshop FittingFor(Recipe recipe, MaterialSheet material, PieceDescription piece) =>
        new(
            material,
            Settings.Material(recipe.ReferenceMaterial),
            HeatOfOvens(),
            (double)Settings.Profile.RoomCelsius,
            Coatings.GroupBy(c => c.Kind).ToDictionary(g => g.Key, g => g.First().Settings)
        )
        {
            Presses =
            [
                .. Stations
                    .Select(s => s.Settings)
                    .OfType<PressSettings>()
                    .Where(p => !p.Wraps)
                    .Select(p => new PlatenSettings(190, 20, (double)p.PaperMillimetres, (double)p.PadMillimetres, (double)p.ContactWM2K))
                    .Distinct(),
            ],
            Wrap = Stations
                .Select(s => (s.Settings as PressSettings)?.Wrap)
                .OfType<WrapFit>()
                .OrderByDescending(w => w.Takes(piece))
                .FirstOrDefault(),
        };

    // A piece may go into any of them; those that transfer heat alike bake alike.
    private IReadOnlyList<HeatOven> HeatOfOvens()
    {
        var ovens = Stations.Select(s => s.Settings).OfType<StationOven>().DistinctBy(o => o.HeatTransfer).Select(Heat).ToList();
        return ovens.Count > 0 ? ovens : [HeatOven.Default];
    }

    private static HeatOven Heat(StationOven oven)
    {
        var shipped = HeatOven.Default;
        return shipped with
        {
            ConvectionWM2K = (double)oven.HeatTransfer,
            ErrorKelvin = (double)oven.ErrorCelsius,
            HeaterWatts = oven.HeaterWatts ?? shipped.HeaterWatts,
            LossWatts = Math.Min(shipped.LossWatts, (oven.HeaterWatts ?? shipped.HeaterWatts) * 0.5),
        };
    }
}

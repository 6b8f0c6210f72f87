using ShopFloor.Domain;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Documents;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Background.Demo;

/// <summary>What any workshop starts with, demo or real: recipes, coatings and one station of each kind, for the owner to change.</summary>
public static class ShippedDefaults
{
    /// <summary>Adds them to a database without recipes; stations and coatings only where there are none yet.</summary>
    public static void AddTo(CommandWork work)
    {
        foreach (var shipped in ShippedRecipes.All)
            work.Context.Recipes.Add(
                Recipe
                    .Create(
                        new RecipeId(Guid.CreateVersion7()),
                        shipped.Name,
                        1,
                        shipped.Finish,
                        shipped.MaterialGroup,
                        DateTimeOffset.UnixEpoch,
                        (shipped.ReferenceMaterial, shipped.ReferenceThickness),
                        shipped.Steps
                    )
                    .Value
            );
        if (!work.Context.Stations.Any())
            work.Context.Stations.AddRange(Stations());
        if (!work.Context.Coatings.Any())
            foreach (var (kind, code, name, settings) in Coatings())
                work.Context.Coatings.Add(new Coating(new CoatingId(Guid.CreateVersion7()), kind, code, name, settings));
        foreach (var topic in new[] { Topic.Station, Topic.Stock, Topic.Price })
            work.Touch(topic, Guid.Empty);
    }

    /// <summary>One station of each kind, with new ids.</summary>
    public static IEnumerable<Station> Stations()
    {
        Station Make(StationKind kind, string code, string name, StationSettings settings) =>
            new(new StationId(Guid.CreateVersion7()), kind, code, name, settings);
        yield return Make(StationKind.Bench, "bench-1", "Work bench", new BenchSettings(2));
        yield return Make(StationKind.Booth, "booth-1", "Spray booth", new BoothSettings([]));
        yield return Make(StationKind.Rack, "rack-1", "Rack", new RackSettings(Mm(600), Mm(400), 6, Mm(10)));
        yield return Make(StationKind.Oven, "oven-1", "Convection oven", Oven());
        yield return Make(StationKind.Press, "press-1", "Flat press", Press());
        var papers = new[]
        {
            PrinterPapers.Iso("A4"),
            PrinterPapers.Iso("A3"),
            new PrinterPaper("roll 432", Mm(432), Mm(1200), IsRoll: true),
        };
        yield return Make(StationKind.Printer, "printer-1", "Transfer printer", new PrinterSettings("A4", false, 1, 1) { Papers = papers });
    }

    /// <summary>A bench-top convection oven with two shelves, as common in such workshops.</summary>
    public static OvenSettings Oven() =>
        new()
        {
            Shelves = [new Shelf(Mm(420), Mm(340), Mm(90)), new Shelf(Mm(420), Mm(340), Mm(90))],
            Margin = Mm(10),
            Gap = Mm(10),
            ErrorCelsius = 4,
            HeatingPerMinute = 14,
            CoolingPerMinute = 3,
            HeaterWatts = 2000,
            VolumeLitres = 60,
        };

    private static PressSettings Press() =>
        new()
        {
            Width = Mm(400),
            Depth = Mm(500),
            Margin = Mm(10),
            Gap = Mm(5),
            Thickest = Mm(25),
            ThicknessTolerance = Mm(0.5m),
            HeatingPerMinute = 17,
        };

    /// <summary>A wrap press, for whoever has one: mantles of cups and flasks are pressed in it one by one.</summary>
    public static PressSettings WrapPress() =>
        new()
        {
            Wrap = WrapFit.Usual,
            HeatingPerMinute = 30,
            Watts = 350,
        };

    private static IEnumerable<(CoatingKind, string, string, CoatingSettings)> Coatings()
    {
        var film = new CoatingSettings
        {
            VolumeSolidsPercent = 10,
            DryFilmMicrometres = 12,
            TransferEfficiency = 0.5m,
            OversprayMarginMillimetres = 30,
            SolventGramsPerMl = 0.7m,
            CanPrice = 16.80m,
        };
        yield return (CoatingKind.Promoter, "promoter", "Promoter", film with { CanPrice = 14.20m, DryFilmMicrometres = 1, CanMl = 250 });
        yield return (
            CoatingKind.WhiteBase,
            "white",
            "White base",
            film with
            {
                CanPrice = 17.90m,
                VolumeSolidsPercent = 14,
                DryFilmMicrometres = 18,
            }
        );
        yield return (CoatingKind.Clear, "clear", "Clear coat", film);
        yield return (CoatingKind.Matt, "matt", "Matt coat", film with { CanPrice = 18.40m });
        yield return (
            CoatingKind.Translucent,
            "translucent",
            "Translucent white",
            film with
            {
                CanPrice = 18.90m,
                VolumeSolidsPercent = 12,
            }
        );
    }

    private static Length Mm(decimal millimetres) => Length.FromMillimetres(millimetres);
}

using System.Text.Json;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Domain.Stock;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;

namespace ShopFloor.Web.Background.Demo;

/// <summary>People, cans and blanks of the invented workshop.</summary>
public static class DemoStock
{
    /// <summary>Adds everything but orders.</summary>
    public static async Task<Result<Done>> AddToAsync(CommandWork work, WorkshopProfile profile, DemoHours hours, CancellationToken cancel)
    {
        ShippedDefaults.AddTo(work);
        var json = JsonSerializer.Serialize(profile, JsonForms.Default);
        work.Context.Settings.Add(new DatedSetting(Guid.CreateVersion7(), SettingKeys.Profile, DateTimeOffset.UnixEpoch, json, work.By));
        foreach (var person in People(hours))
            work.Context.People.Add(person);
        foreach (var coating in work.Context.Coatings.Local.OrderBy(c => c.Code, StringComparer.Ordinal).ToList())
        {
            var weighed = coating.Settings with { EmptyCanGrams = 92, ContentGramsPerMl = 0.78m };
            _ = coating.Change(coating.Name, coating.Kind == CoatingKind.Promoter ? weighed with { WipedMlPerSquareMetre = 15 } : weighed);
            for (var i = 0; i < 3; i++)
                AddCan(work, coating, (int)await work.NextNumberAsync("can", cancel));
        }
        foreach (var (item, onHand) in Items())
        {
            work.Context.StockItems.Add(item);
            work.Move(item, onHand, new StockCause(StockReason.Delivery, Note: "first count"));
            // The supplier of slate has written that it gets dearer.
            if (item.Code.StartsWith("slate", StringComparison.Ordinal))
                _ = item.PriceFrom(DateOnly.FromDateTime(work.Now.UtcDateTime).AddDays(DemoWorkshop.DaysOpen + 30), 2.85m);
        }
        return default(Done);
    }

    // The first can of each coating has the nearest last day, and one of them only a few weeks: the lists have something to point out.
    private static void AddCan(CommandWork work, Coating coating, int number)
    {
        var day = DateOnly.FromDateTime(work.Now.UtcDateTime);
        var can = new Can(
            new CanId(Guid.CreateVersion7()),
            coating.Id,
            string.Create(CultureInfo.InvariantCulture, $"C-{number:000}"),
            string.Create(CultureInfo.InvariantCulture, $"M{26_000 + (number * 37)}"),
            coating.Settings.CanMl,
            number == 2 ? day.AddDays(DemoWorkshop.DaysOpen + 14) : day.AddMonths(14 + (number % 3)),
            work.Now
        );
        work.Context.Cans.Add(can);
        work.Note(can, can.FullMl, new StockCause(StockReason.Delivery));
    }

    private static IEnumerable<Person> People(DemoHours hours)
    {
        StationKind[] all = [StationKind.Bench, StationKind.Booth, StationKind.Oven, StationKind.Press, StationKind.Printer];
        yield return new Person(new PersonId(Guid.CreateVersion7()), "ada", "Ada", all, hours.Week(0, 8, 2));
        yield return new Person(new PersonId(Guid.CreateVersion7()), "bo", "Bo", all, hours.Week(4, 8, 2));
    }

    private static IEnumerable<(StockItem Item, decimal OnHand)> Items()
    {
        yield return (
            Counted(new StockItem("paper-a4", "Transfer paper A4", StockItem.Paper, "sheets", 0, 50, 0.22m) { PaperSize = "A4" }, 7, 1),
            180
        );
        // A roll of 33 m; a piece takes about 20 cm (common practice, no source).
        yield return (Counted(new StockItem("tape", "Heat tape 10 mm", StockItem.Tape, "rolls", 0, 2, 4.90m), 5, 0.006m), 6);
        yield return (Counted(new StockItem("sheet", "Protective sheet", StockItem.Sheet, "sheets", 0, 60, 0.12m), 5, 1), 240);
        yield return (
            Blank("plate-100x60", ("Aluminium plate 100 × 60", "Aluminiumschild 100 × 60"), "al", FaceShape.Rectangle, (100, 60, 1), 0.85m),
            90
        );
        yield return (
            Blank("plate-80x50", ("Aluminium plate 80 × 50", "Aluminiumschild 80 × 50"), "al", FaceShape.Rectangle, (80, 50, 1), 0.65m),
            60
        );
        yield return (
            Blank(
                "plate-150x100",
                ("Aluminium plate 150 × 100", "Aluminiumschild 150 × 100"),
                "al",
                FaceShape.Rectangle,
                (150, 100, 1.5m),
                1.90m
            ),
            12
        );
        yield return (Blank("disc-70", ("Aluminium disc 70", "Aluminiumscheibe 70"), "al", FaceShape.Disc, (70, 70, 1), 0.95m), 40);
        yield return (
            Blank("slate-200x150", ("Slate 200 × 150", "Schiefer 200 × 150"), "slate", FaceShape.Rectangle, (200, 150, 5), 2.60m),
            14
        );
        yield return (
            Blank("tile-150", ("White tile 150 × 150", "Weiße Fliese 150 × 150"), "tile", FaceShape.Rectangle, (150, 150, 6), 1.10m),
            18
        );
    }

    private static StockItem Counted(StockItem item, int leadDays, decimal usedEach)
    {
        _ = item.Change(item.Facts with { LeadDays = leadDays, UsedEach = usedEach });
        return item;
    }

    private static StockItem Blank(
        string code,
        (string English, string German) name,
        string material,
        FaceShape face,
        (decimal Width, decimal Height, decimal Thickness) size,
        decimal price
    ) =>
        new(code, name.English, StockItem.Blank, "pieces", 0, 10, price)
        {
            BlankJson = Blanks.Json(
                new PieceDescription
                {
                    Material = material,
                    Face = face,
                    Width = Length.FromMillimetres(size.Width),
                    Height = Length.FromMillimetres(size.Height),
                    Thickness = Length.FromMillimetres(size.Thickness),
                    Hidden = HiddenParts.None,
                },
                new Dictionary<string, string> { ["de"] = name.German }
            ),
        };
}

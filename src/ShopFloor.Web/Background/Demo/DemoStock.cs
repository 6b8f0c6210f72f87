using System.Text.Json;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Stations;
using ShopFloor.Domain.Stock;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Background.Demo;

/// <summary>People, cans and blanks of the invented workshop.</summary>
public static class DemoStock
{
    /// <summary>Adds everything but orders.</summary>
    public static Task<Result<Done>> AddToAsync(CommandWork work, WorkshopProfile profile, CancellationToken cancel)
    {
        cancel.ThrowIfCancellationRequested();
        ShippedDefaults.AddTo(work);
        var json = JsonSerializer.Serialize(profile, JsonForms.Default);
        work.Context.Settings.Add(new DatedSetting(Guid.CreateVersion7(), SettingKeys.Profile, DateTimeOffset.UnixEpoch, json, work.By));
        foreach (var person in People())
            work.Context.People.Add(person);
        var number = 1;
        foreach (var coating in work.Context.Coatings.Local.OrderBy(c => c.Code, StringComparer.Ordinal).ToList())
            for (var i = 0; i < 3; i++)
                work.Context.Cans.Add(Can(coating, number++, work.Now));
        foreach (var item in Items())
            work.Context.StockItems.Add(item);
        return Task.FromResult<Result<Done>>(default(Done));
    }

    private static Can Can(Coating coating, int number, DateTimeOffset at) =>
        new(
            new CanId(Guid.CreateVersion7()),
            coating.Id,
            string.Create(CultureInfo.InvariantCulture, $"C-{number:000}"),
            string.Create(CultureInfo.InvariantCulture, $"M{26_000 + (number * 37)}"),
            coating.Settings.CanMl,
            DateOnly.FromDateTime(at.UtcDateTime).AddMonths(14 + (number % 3)),
            at
        );

    private static IEnumerable<Person> People()
    {
        StationKind[] all = [StationKind.Bench, StationKind.Booth, StationKind.Oven, StationKind.Press, StationKind.Printer];
        yield return new Person(new PersonId(Guid.CreateVersion7()), "ada", "Ada", all, Week(7, 15, 17));
        yield return new Person(new PersonId(Guid.CreateVersion7()), "bo", "Bo", all, Week(11, 19, 21));
    }

    // Every day of the week, so that the demo has somebody at work whenever it is looked at.
    private static List<Shift> Week(int from, int normalTo, int to) =>
        [.. Enum.GetValues<DayOfWeek>().Select(d => new Shift(d, new TimeOnly(from, 0), new TimeOnly(normalTo, 0), new TimeOnly(to, 0)))];

    private static IEnumerable<StockItem> Items()
    {
        yield return new StockItem("paper-a4", "Transfer paper A4", "paper", "sheet", 180, 50, 0.22m);
        yield return new StockItem("tape", "Heat tape 10 mm", "tape", "roll", 6, 2, 4.90m);
        yield return new StockItem("sheet", "Protective sheet", "sheet", "sheet", 240, 60, 0.12m);
        yield return Blank("plate-100x60", "Aluminium plate 100 × 60", "al", FaceShape.Rectangle, (100, 60, 1), 90, 0.85m);
        yield return Blank("plate-80x50", "Aluminium plate 80 × 50", "al", FaceShape.Rectangle, (80, 50, 1), 60, 0.65m);
        yield return Blank("plate-150x100", "Aluminium plate 150 × 100", "al", FaceShape.Rectangle, (150, 100, 1.5m), 25, 1.90m);
        yield return Blank("disc-70", "Aluminium disc 70", "al", FaceShape.Disc, (70, 70, 1), 40, 0.95m);
        yield return Blank("slate-200x150", "Slate 200 × 150", "slate", FaceShape.Rectangle, (200, 150, 5), 14, 2.60m);
        yield return Blank("tile-150", "White tile 150 × 150", "tile", FaceShape.Rectangle, (150, 150, 6), 18, 1.10m);
    }

    private static StockItem Blank(
        string code,
        string name,
        string material,
        FaceShape face,
        (decimal Width, decimal Height, decimal Thickness) size,
        decimal onHand,
        decimal price
    ) =>
        new(code, name, "blank", "piece", onHand, 10, price)
        {
            BlankJson = JsonSerializer.Serialize(
                new PieceDescription
                {
                    Material = material,
                    Face = face,
                    Width = Length.FromMillimetres(size.Width),
                    Height = Length.FromMillimetres(size.Height),
                    Thickness = Length.FromMillimetres(size.Thickness),
                    Hidden = HiddenParts.None,
                },
                JsonForms.Default
            ),
        };
}

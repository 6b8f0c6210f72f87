using ShopFloor.Planning.Exchange;
using Plan = ShopFloor.Planning.Exchange;

namespace ShopFloor.Web.Background.Plans;

/// <summary>Makes the planner's day of a snapshot.</summary>
public static class DayFromShop
{
    /// <summary>Days looked ahead at least.</summary>
    private const int LeastDays = 10;

    /// <summary>Days looked ahead at most.</summary>
    private const int MostDays = 60;

    /// <summary>Steps that start sooner than this stay where they are unless moving them pays.</summary>
    private const int NearSeconds = 7_200;

    /// <summary>A start counts as moved from this on.</summary>
    private const int MovedSeconds = 600;

    /// <summary>The day.</summary>
    /// <param name="shop">The snapshot.</param>
    /// <param name="more">Pieces that are only being quoted.</param>
    /// <param name="asFarAsCanBe">Looks ahead as many days as are ever looked ahead.</param>
    /// <param name="usesRunning">Whether waits that run may be used to their end (<see cref="Planning.DayPlans.WaitReserve"/>).</param>
    public static Day Make(ShopSnapshot shop, IReadOnlyList<Plan.Piece>? more = null, bool asFarAsCanBe = false, bool usesRunning = false)
    {
        shop = FaultyPieces.LeftOut(shop);
        var horizon = asFarAsCanBe ? MostDays * 86_400 : Horizon(shop, more ?? []);
        var stations = shop.Stations.Select(s => DayStations.Of(s, shop, horizon)).OfType<Plan.Station>().ToList();
        return new Day(
            shop.Now,
            horizon,
            DayStations.Tenths(shop.Settings.Profile.RoomCelsius),
            [.. shop.People.Select(p => new Plan.Person(p.Code, Kinds(p), DayTimes.Shifts(p, shop, horizon)))],
            stations,
            DayStations.Coatings(shop),
            [.. shop.Pieces.Select(p => DayPieces.Of(p, shop, usesRunning)), .. more ?? []],
            DayRunning.Of(shop),
            Published(shop),
            shop.Settings.Weights
        );
    }

    private static int Horizon(ShopSnapshot shop, IReadOnlyList<Plan.Piece> more)
    {
        var far = shop.Pieces.Select(p => (shop.Orders[p.Order].PromisedAt - shop.Now).TotalDays).DefaultIfEmpty(0).Max();
        far = Math.Max(far, more.Select(p => p.EarliestS).DefaultIfEmpty(0).Max() / 86_400d);
        var days = Math.Max(far + 4, LeastDays + (shop.Pieces.Count + more.Count) / 40);
        return (int)Math.Min(MostDays, Math.Ceiling(days)) * 86_400;
    }

    private static List<Plan.StationKind> Kinds(Domain.Stations.Person person) =>
        [
            .. person
                .Can.Where(k => k != Domain.Stations.StationKind.Printer)
                .Distinct()
                .OrderBy(k => k)
                .Select(k => Enum.Parse<Plan.StationKind>(k.ToString())),
        ];

    private static Published? Published(ShopSnapshot shop)
    {
        if (shop.Last is not { } last)
            return null;
        var read = PlanReader.Read(System.Text.Encoding.UTF8.GetBytes(last.PlanJson), "published plan");
        if (!read.IsOk)
            return null;
        var shift = shop.Seconds(last.Zero);
        var open = shop.Pieces.ToDictionary(p => p.Code, p => p.Current!.Number, StringComparer.Ordinal);
        var inBatch = read.Value!.Batches.SelectMany(b => b.Places.Select(p => (b.Id, p.Piece, p.Step)))
            .ToLookup(b => b.Id, b => (b.Piece, b.Step), StringComparer.Ordinal);
        var steps = new List<PublishedStep>();
        foreach (var task in read.Value.Tasks)
        {
            var covered =
                task.Piece is { } piece && task.Step is { } step && task.Kind != TaskKinds.Rest ? [(piece, step)]
                : task.Kind is TaskKinds.Load or TaskKinds.Press ? inBatch[task.Batch!]
                : [];
            foreach (var (code, number) in covered)
                if (open.TryGetValue(code, out var current) && number >= current && task.StartS + shift >= 0)
                    steps.Add(new PublishedStep(code, number, task.Station, task.StartS + shift));
        }
        return new Published(last.Number, NearSeconds, MovedSeconds, steps);
    }
}

using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Makes seeded days of an invented workshop, for trials and measurements. How they are made is told in docs/formats.md;
/// sizes, times and shares are common practice, no source.</summary>
public sealed class DayMaker
{
    private const int DayS = 86_400;
    private readonly SeededRandom random;
    private readonly int count;
    private readonly bool awkward;

    private DayMaker(int count, ulong seed, bool awkward)
    {
        random = new SeededRandom((seed * 1_000_003) + (ulong)count);
        (this.count, this.awkward) = (count, awkward);
    }

    /// <summary>A day of this many pieces.</summary>
    /// <param name="pieces">1 to 20 000.</param>
    /// <param name="seed">Equal seeds give equal days.</param>
    /// <param name="awkward">Also use everything rare: pins, pieces that wait for others, shared air, tight racks, broken stations,
    /// old and nearly empty cans, odd skills.</param>
    public static Day Make(int pieces, ulong seed, bool awkward = false) => new DayMaker(pieces, seed, awkward).Make();

    private bool Chance(int percent) => random.Next(100) < percent;

    private int Between(int least, int most) => least + random.Next(most - least + 1);

    private Day Make()
    {
        var people = count switch
        {
            <= 12 => Between(1, 2),
            <= 120 => 2,
            _ => 3,
        };
        var days = 3 + (count / (people * 12));
        var stations = Stations();
        var made = Pieces(days);
        return new Day(
            new DateTimeOffset(2026, 3, 2, 8, 0, 0, TimeSpan.FromHours(1)),
            days * DayS,
            200,
            [.. Enumerable.Range(0, people).Select(p => MakePerson(p, days))],
            stations,
            Coatings(made),
            made,
            Running.Nothing,
            null,
            Weights.Default
        );
    }

    private Person MakePerson(int p, int days)
    {
        string[] names = ["ada", "ben", "cleo"];
        var shifts = new List<Shift>();
        for (var d = 0; d < days; d++)
        {
            var at = d * DayS;
            if (awkward && Chance(10) && d > 0)
                continue;
            shifts.Add(new Shift(at, at + 14_400, at + 14_400));
            shifts.Add(new Shift(at + 17_100, at + 32_400, at + 32_400 + (awkward && Chance(20) ? 0 : 5_400)));
        }
        StationKind[] all = [StationKind.Bench, StationKind.Booth, StationKind.Oven, StationKind.Press];
        StationKind[] can = awkward && p > 0 ? [.. all.Where(k => k == StationKind.Bench || Chance(75))] : all;
        return new Person(names[p], can, shifts);
    }

    private List<Station> Stations()
    {
        var stations = new List<Station>
        {
            new Bench("bench-1", Down(), 2),
            new Rack("rack-1", awkward ? Down() : [], awkward && Chance(40) ? 400_000_000_000L / 4 : 40_000_000_000_000L, 10_000),
            MakeOven("oven-1", 2),
            MakePress("press-1", 380_000, 280_000),
        };
        if (count > 8)
            stations.Add(new Bench("bench-2", [], null));
        if (count > 40)
            stations.Add(MakePress("press-2", 500_000, 400_000));
        if (count > 150 || (awkward && Chance(40)))
            stations.Add(MakeOven("oven-2", 3));
        if (awkward && Chance(30))
            stations.Add(new Rack("rack-2", [], 500_000_000_000, 15_000));
        stations.Add(new Booth("booth-1", Down(), awkward && Chance(30) ? ["oven-1"] : []));
        if (awkward && Chance(20))
            stations.Add(new Booth("booth-2", [], []));
        return stations;
    }

    private List<Span> Down()
    {
        if (!awkward || !Chance(25))
            return [];
        var from = Between(0, 40_000);
        return [new Span(from, from + Between(600, 20_000))];
    }

    private Oven MakeOven(string id, int shelves) =>
        new(
            id,
            Down(),
            new Heat(500, 2300, 40, 200, 14_000, awkward ? 12_000 : 3_000),
            10_000,
            10_000,
            [.. Enumerable.Range(0, shelves).Select(_ => new Shelf(400_000, 300_000, 80_000))],
            30,
            10,
            30,
            10,
            1_500,
            20_000,
            600
        );

    private Press MakePress(string id, int width, int depth) =>
        new(id, Down(), new Heat(1000, 2200, 0, 200, 17_000, 2_000), 10_000, 5_000, width, depth, 20_000, 500, 20, 10);

    private List<Coating> Coatings(List<Piece> pieces)
    {
        var coatings = new List<Coating>();
        foreach (var (id, again) in new[] { ("clear", 300), ("matt", 300), ("translucent", 240), ("white", 300) })
        {
            var need = pieces.SelectMany(p => p.Route).Where(s => s.Kind == StepKind.Spray && s.Coating == id).Sum(s => s.Ul);
            var cans = new List<Can>();
            for (var left = need + 40_000; left > 0; left -= 300_000)
                cans.Add(new Can(FormattableString.Invariant($"{id}-{cans.Count + 1}"), 300_000, null));
            if (awkward && Chance(40))
                cans[0] = cans[0] with { LeftUl = Between(5_000, 60_000), UseByS = Chance(50) ? Between(2_000, 60_000) : null };
            coatings.Add(new Coating(id, 60, again, cans));
        }
        return coatings;
    }

    private List<Piece> Pieces(int days)
    {
        var pieces = new List<Piece>();
        for (var order = 1; pieces.Count < count; order++)
        {
            var alike = Chance(50);
            var size = Math.Min(count - pieces.Count, Between(1, 4));
            var (promiseDay, finish, blank) = (Between(1, Math.Max(1, days - 2)), random.Next(100), Blank());
            for (var i = 0; i < size; i++)
            {
                if (!alike && i > 0)
                    (finish, blank) = (random.Next(100), Blank());
                pieces.Add(MakePiece(pieces.Count + 1, order, promiseDay, finish, blank));
            }
        }
        return awkward ? [.. pieces.Select((p, i) => Tie(p, i, pieces))] : pieces;
    }

    private (int W, int D, int T, bool Slate) Blank()
    {
        var slate = Chance(8);
        int[] thick = [800, 1_000, 1_500, 3_000, 5_000];
        return (Between(40, 200) * 1000, Between(30, 140) * 1000, slate ? 6_000 : thick[random.Next(thick.Length)], slate);
    }

    private Piece MakePiece(int number, int order, int promiseDay, int finish, (int W, int D, int T, bool Slate) blank)
    {
        var at = ((promiseDay - 1) * DayS) + (Chance(30) ? 14_400 : 32_400);
        return new Piece(
            string.Create(CultureInfo.InvariantCulture, $"P{number:0000}"),
            FormattableString.Invariant($"O{order}"),
            blank.W,
            blank.D,
            blank.T,
            Chance(85),
            Chance(15) ? Between(0, 10_000) : 0,
            at,
            Between(1, 3),
            [],
            Route(finish, blank),
            0,
            null,
            []
        );
    }

    private List<Step> Route(int finish, (int W, int D, int T, bool Slate) blank)
    {
        var area = blank.W / 1000L * (blank.D / 1000L);
        var grams = (int)(area * blank.T / 1000 * 27 / 10_000);
        var route = new List<Step> { new(StepKind.Clean) { LengthS = 60 + (int)(area / 200) } };
        if (blank.Slate)
        {
            route.Insert(
                0,
                new Step(StepKind.Dry)
                {
                    TenthsC = 1100,
                    MinS = 3600,
                    MaxS = 5400,
                    HeatJ = grams * 60,
                    VapourMg = grams * 20,
                }
            );
            route.Insert(1, new Step(StepKind.Rest) { MinS = 900 });
        }
        if (Chance(10))
            route.Add(new Step(StepKind.Mask) { LengthS = Between(60, 240) });
        var spray = 25 + (int)(area / 800);
        var ul = 500 + (int)(area / 5);
        route.Add(new Step(StepKind.Wipe) { LengthS = 40 + (int)(area / 500), MaxWaitS = 600 });
        if (finish is >= 40 and < 70)
            route.AddRange([Spray("white", spray, ul), new Step(StepKind.Rest) { MinS = 300, MaxS = 1800 }, Spray("clear", spray, ul)]);
        else if (finish is >= 70 and < 85)
            route.AddRange([Spray("matt", spray, ul), new Step(StepKind.Rest) { MinS = 120, MaxS = 1200 }, Spray("matt", spray, ul)]);
        else
            route.Add(Spray("clear", spray, ul));
        Cured(route, 900 + (blank.T / 100), 1200 + (blank.T / 100), grams);
        if (finish >= 85)
        {
            route.Add(new Step(StepKind.Rest) { MinS = 420 });
            route.Add(Spray("translucent", spray, ul));
            Cured(route, 780 + (blank.T / 100), 1080 + (blank.T / 100), grams);
        }
        var press = (finish >= 85 ? 240 : 60) + (blank.T / 250);
        route.AddRange([
            new Step(StepKind.Rest) { MinS = 900 },
            new Step(StepKind.Tape) { LengthS = 60, ReadyS = Chance(20) ? Between(0, 12_000) : 0 },
            new Step(StepKind.Press)
            {
                TenthsC = 1900,
                MinS = press - 10,
                MaxS = press + 10,
                Pressure = "medium",
                LayUp = finish >= 85 ? "print below" : "print above",
            },
            new Step(StepKind.Inspect) { LengthS = 30 },
            new Step(StepKind.Pack) { LengthS = 30 },
        ]);
        return route;
    }

    private static Step Spray(string coating, int length, int ul) =>
        new(StepKind.Spray)
        {
            LengthS = length,
            Coating = coating,
            Ul = ul,
        };

    private static void Cured(List<Step> route, int min, int max, int grams) =>
        route.AddRange([
            new Step(StepKind.Rest) { MinS = 600, MaxS = 2700 },
            new Step(StepKind.Cure)
            {
                TenthsC = 1600,
                MinS = min,
                MaxS = max,
                HeatJ = grams * 130,
                VapourMg = 400,
            },
        ]);

    private Piece Tie(Piece piece, int i, List<Piece> pieces)
    {
        if (i > 0 && Chance(6))
            piece = piece with { After = [pieces[random.Next(i)].Id] };
        if (!Chance(12))
            return piece;
        var step = Between(1, piece.Route.Count);
        var pin = random.Next(4) switch
        {
            0 => new Pin(step, NotBeforeS: Between(0, 30_000)),
            1 => new Pin(step, AtS: Between(0, 30_000)),
            2 => new Pin(step, Station: new[] { "bench-1", "oven-1", "press-1", "booth-1" }[random.Next(4)]),
            _ when i > 0 => new Pin(step, With: pieces[random.Next(i)].Id),
            _ => new Pin(step, NotBeforeS: 600),
        };
        return piece with { Pins = [pin] };
    }
}

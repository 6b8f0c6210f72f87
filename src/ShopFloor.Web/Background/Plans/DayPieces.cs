using ShopFloor.Data.Records;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Web.Bench.TestPieces;
using Plan = ShopFloor.Planning.Exchange;

namespace ShopFloor.Web.Background.Plans;

/// <summary>Pieces and their routes in the planner's terms.</summary>
public static class DayPieces
{
    /// <summary>How much the lateness of a rush order's piece counts; others' count 2 when own pieces, else 1 (common practice, no source).</summary>
    public const int RushWeight = 4;

    /// <summary>A picture that is still to come, or a proof that nobody has judged, is taken to be right within a day (common practice, no source).</summary>
    private const int ProofSeconds = 86_400;

    /// <summary>Whoever is in a hurry looks at it sooner (common practice, no source).</summary>
    private const int RushProofSeconds = 7_200;

    /// <summary>A test piece that nobody has begun is taken to have come out well within a day (common practice, no source).</summary>
    internal const int TestSeconds = 86_400;

    /// <summary>Transfers not printed yet are taken to be printed within half an hour (common practice, no source).</summary>
    private const int PrintSeconds = 1_800;

    /// <summary>A piece of the shop.</summary>
    /// <param name="piece">Which.</param>
    /// <param name="shop">What it is in.</param>
    /// <param name="usesRunning">Whether the wait that it is in may be used to its end (<see cref="WaitReserve"/>).</param>
    public static Plan.Piece Of(Piece piece, ShopSnapshot shop, bool usesRunning = false)
    {
        var order = shop.Orders[piece.Order];
        var line = order.AllLines.First(l => l.Id == piece.Line);
        var items = piece.Items.OrderBy(i => i.Number).ToList();
        var past = PastWork.Of(piece, shop);
        var route = LongerFlash.Of([.. items.Select(i => Step(i.Settings, ReadySeconds(order, piece, shop), shop))], past.Done, shop);
        var planned = new Plan.Piece(
            piece.Code,
            order.Number.ToString(CultureInfo.InvariantCulture),
            DayStations.Um(line.Piece.Room.Width),
            DayStations.Um(line.Piece.Room.Depth),
            DayStations.Um(line.Piece.Room.High),
            true,
            0,
            shop.Seconds(order.PromisedAt),
            Weight(order, piece.IsOwn),
            TestsOf(piece, line, shop),
            [.. items.Zip(route, (i, step) => DayRunning.Lengthened(i, past.Loosened(i.Number, step), shop))],
            past.Done,
            past.LastEnd,
            [
                .. shop
                    .Pins.Where(p => p.Piece == piece.Id && p.Step > past.Closed && p.Step <= items.Count && Binds(p, shop))
                    .Select(p => Pin(p, shop)),
            ]
        )
        {
            Round = line.Piece.Form == Form.Cylinder,
        };
        return WaitReserve.Of(planned, usesRunning);
    }

    /// <summary>A piece that is only being quoted.</summary>
    public static Plan.Piece Of(NewPieces asked, string id, int promise, AskedOrder order, ShopSnapshot shop) =>
        WaitReserve.Of(
            new Plan.Piece(
                id,
                "quote",
                DayStations.Um(asked.Piece.Room.Width),
                DayStations.Um(asked.Piece.Room.Depth),
                DayStations.Um(asked.Piece.Room.High),
                true,
                0,
                promise,
                asked.Piece.IsOwn ? 2 : 1,
                [],
                LongerFlash.Of(
                    [.. asked.Steps.Select(s => Step(s, Proof(order.ProofOpen, order.Rush) + PrintSeconds + Dry(shop), shop))],
                    0,
                    shop
                ),
                0,
                null,
                []
            )
            {
                Round = asked.Piece.Form == Form.Cylinder,
            }
        );

    // The Bench begins no piece before its test has come out well.
    private static IReadOnlyList<string> TestsOf(Piece piece, OrderLine line, ShopSnapshot shop) =>
        TestFirst.IsMissing(line, piece, shop.Settings) == false
            ? []
            : [.. shop.Pieces.Where(p => p.IsTest && p.Line == piece.Line && p.State != PieceState.CheckedGood).Select(p => p.Code)];

    private static int Proof(bool isOpen, bool rush) =>
        !isOpen ? 0
        : rush ? RushProofSeconds
        : ProofSeconds;

    private static int Weight(Order order, bool own) =>
        order.IsRush ? RushWeight
        : own ? 2
        : 1;

    private static int Dry(ShopSnapshot shop) => shop.Settings.Profile.TransferDryMinutes * 60;

    private static int ReadySeconds(Order order, Piece piece, ShopSnapshot shop)
    {
        if (order.PrintedAt is { } printed && !shop.Unprinted.Contains(piece.Code))
            return shop.Seconds(printed) + Dry(shop);
        return Proof(order.Proof is ProofState.Waiting or ProofState.ChangeWanted || order.WithoutPicture().Any(), order.IsRush)
            + PrintSeconds
            + Dry(shop);
    }

    /// <summary>A moment that has passed and a piece that has left bind nothing any more.</summary>
    private static bool Binds(PlanPin pin, ShopSnapshot shop) =>
        pin.With is { } with ? shop.Pieces.Any(p => p.Code == with) : pin.At is null || shop.Seconds(pin.At.Value) >= 0;

    private static Plan.Pin Pin(PlanPin pin, ShopSnapshot shop) =>
        new(
            pin.Step,
            pin.NotBefore is { } t ? Math.Max(0, shop.Seconds(t)) : null,
            pin.At is { } at ? shop.Seconds(at) : null,
            pin.Station,
            pin.With
        );

    private static Plan.Step Step(RecipeStep step, int ready, ShopSnapshot shop)
    {
        var planned = new Plan.Step(Kind(step.Kind)) { MaxWaitS = step.MaxWaitSeconds };
        return step.Kind switch
        {
            StepKind.Rest => planned with { MaxWaitS = null, MinS = step.MinSeconds, MaxS = step.MaxSeconds },
            StepKind.Spray => planned with
            {
                LengthS = step.LengthSeconds,
                Coating = Code(step, shop),
                Ul = (int)Math.Ceiling(step.Ml * 1000),
            },
            StepKind.Cure or StepKind.Dry => Window(planned, step) with
            {
                HeatJ = (int)Math.Ceiling(step.HeatKilojoules * 1000),
                VapourMg = (int)Math.Ceiling(step.VapourGrams * 1000),
            },
            StepKind.Press => Window(planned, step) with { Pressure = step.Pressure ?? "medium", LayUp = step.LayUp ?? "print above" },
            StepKind.Tape => planned with { LengthS = step.LengthSeconds, ReadyS = ready },
            _ => planned with { LengthS = step.LengthSeconds },
        };
    }

    private static Plan.Step Window(Plan.Step planned, RecipeStep step) =>
        planned with
        {
            MaxWaitS = step.MaxWaitSeconds,
            MinS = Math.Max(1, step.MinSeconds),
            MaxS = step.MaxSeconds ?? step.MinSeconds,
            TenthsC = DayStations.Tenths(step.Celsius ?? 160),
        };

    private static string Code(RecipeStep step, ShopSnapshot shop) =>
        shop.Coatings.FirstOrDefault(c => c.Kind == step.Coating)?.Code ?? "missing";

    private static Plan.StepKind Kind(StepKind kind) => Enum.Parse<Plan.StepKind>(kind.ToString());
}

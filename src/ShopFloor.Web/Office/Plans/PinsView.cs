using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;
using Piece = ShopFloor.Domain.Pieces.Piece;

namespace ShopFloor.Web.Office.Plans;

/// <summary>How a pin stands with the latest plan.</summary>
public enum PinState
{
    /// <summary>The plan was made before it.</summary>
    NotPlannedYet,

    /// <summary>The plan keeps it.</summary>
    Kept,

    /// <summary>The plan cannot keep it.</summary>
    NotKept,
}

/// <summary>A pin as the Office shows it.</summary>
/// <param name="Id">Which.</param>
/// <param name="Piece">Code of the piece.</param>
/// <param name="Order">Number of its order.</param>
/// <param name="Step">Its step in words.</param>
/// <param name="Kind">What it asks for.</param>
/// <param name="When">The instant by the shop's clock; null for the kind "with".</param>
/// <param name="With">The other piece.</param>
/// <param name="State">Whether the latest plan keeps it.</param>
/// <param name="Start">When the plan starts the step, by the shop's clock; null when it does not.</param>
/// <param name="LeftOut">Why the plan leaves the piece out, else null.</param>
public sealed record PinRow(
    Guid Id,
    string Piece,
    int Order,
    string Step,
    PinKind Kind,
    DateTime? When,
    string? With,
    PinState State,
    DateTime? Start,
    string? LeftOut
);

/// <summary>A step that can be pinned.</summary>
public sealed record PinStep(int Number, string Words);

/// <summary>Reads pins and what can be pinned.</summary>
public sealed class PinsView(IDbContextFactory<ShopContext> contexts, PlanShelf shelf, TimeProvider time) : IPageView
{
    /// <summary>The pins of steps that are still to come.</summary>
    public async Task<IReadOnlyList<PinRow>> LoadAsync(CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var pins = await context.Pins.AsNoTracking().OrderBy(p => p.Id).ToListAsync(cancel);
        var ids = pins.Select(p => p.Piece).Distinct().ToList();
        var pieces = await context.Pieces.AsNoTracking().Where(p => ids.Contains(p.Id)).ToDictionaryAsync(p => p.Id, cancel);
        var orderIds = pieces.Values.Select(p => p.Order).Distinct().ToList();
        var orders = await context
            .Orders.AsNoTracking()
            .Where(o => orderIds.Contains(o.Id))
            .ToDictionaryAsync(o => o.Id, o => o.Number, cancel);
        var (zone, plan) = (await ZoneAsync(context, cancel), await shelf.LatestAsync(cancel));
        return
        [
            .. pins.Where(p => pieces.TryGetValue(p.Piece, out var piece) && PinPiece.Open(piece, p.Step) is not null)
                .Select(p => Row(p, pieces[p.Piece], orders[pieces[p.Piece].Order], zone, plan)),
        ];
    }

    /// <summary>The steps of a piece that can be pinned; empty when there is no such piece.</summary>
    public async Task<IReadOnlyList<PinStep>> StepsAsync(string code, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var piece = await context.Pieces.AsNoTracking().FirstOrDefaultAsync(p => p.Code == code, cancel);
        return piece is null
            ? []
            :
            [
                .. piece
                    .Items.OrderBy(i => i.Number)
                    .Where(i => PinPiece.Open(piece, i.Number) is not null)
                    .Select(i => new PinStep(i.Number, Words(i))),
            ];
    }

    /// <summary>The zone of the shop's clock.</summary>
    public async Task<TimeZoneInfo> ZoneAsync(CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        return await ZoneAsync(context, cancel);
    }

    private async Task<TimeZoneInfo> ZoneAsync(ShopContext context, CancellationToken cancel) =>
        (await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel)).Zone;

    private static string Words(WorkItem item) => $"{item.Number} {StepWords.Of(item.Settings)}";

    private static PinRow Row(PlanPin pin, Piece piece, int order, TimeZoneInfo zone, ReadPlan? plan)
    {
        DateTime Local(DateTimeOffset at) => TimeZoneInfo.ConvertTime(at, zone).DateTime;
        var kind =
            pin.With is not null ? PinKind.With
            : pin.At is not null ? PinKind.At
            : PinKind.NotBefore;
        var start = plan?.Plan.StartOf(piece.Code, pin.Step);
        return new PinRow(
            pin.Id,
            piece.Code,
            order,
            Words(piece.Items.First(i => i.Number == pin.Step)),
            kind,
            (pin.At ?? pin.NotBefore) is { } at ? Local(at) : null,
            pin.With,
            State(pin, piece.Code, plan),
            start is { } s ? Local(plan!.Instant(s)) : null,
            plan?.Plan.LeftOut.FirstOrDefault(l => l.Piece == piece.Code)?.Text
        );
    }

    private static PinState State(PlanPin pin, string code, ReadPlan? plan)
    {
        var known = plan?.Day.Pieces.FirstOrDefault(p => p.Id == code)?.Pins.FirstOrDefault(p => p.Step == pin.Step);
        // A pin of the day that asks for something else is one that this pin has replaced.
        if (plan is null || known is null || !IsSame(pin, known, plan))
            return PinState.NotPlannedYet;
        return plan.Plan.UnmetPins.Any(u => u.Piece == code && u.Step == pin.Step) ? PinState.NotKept : PinState.Kept;
    }

    private static bool IsSame(PlanPin pin, Pin known, ReadPlan plan)
    {
        bool Near(DateTimeOffset? asked, int? second) =>
            asked is { } at && second is { } s && Math.Abs((plan.Instant(s) - at).TotalSeconds) < 2;
        return pin.With is not null ? pin.With == known.With
            : pin.At is not null ? Near(pin.At, known.AtS)
            : Near(pin.NotBefore, known.NotBeforeS);
    }
}

/// <summary>Where a plan starts a step.</summary>
public static class PlanSteps
{
    /// <summary>The second at which a step of a piece starts, alone or with its batch; null when the plan does not plan it.</summary>
    public static int? StartOf(this Plan plan, string piece, int step)
    {
        if (plan.Tasks.FirstOrDefault(t => t.Piece == piece && t.Step == step) is { } alone)
            return alone.StartS;
        var batch = plan.Batches.FirstOrDefault(b => b.Places.Any(p => p.Piece == piece && p.Step == step));
        return batch is null
            ? null
            : plan.Tasks.FirstOrDefault(t => t.Batch == batch.Id && t.Kind is TaskKinds.Load or TaskKinds.Press)?.StartS;
    }
}

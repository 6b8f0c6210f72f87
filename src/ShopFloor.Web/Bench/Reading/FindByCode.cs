using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Documents;
using ShopFloor.Web.Wall.Reading;

namespace ShopFloor.Web.Bench.Reading;

/// <summary>A can as the Bench sees it.</summary>
public sealed record CanSheet(
    string Code,
    string Coating,
    string Lot,
    decimal LeftMl,
    decimal FullMl,
    DateOnly? UseBy,
    string? HeldBecause,
    int Pieces
);

/// <summary>What a code stands for: exactly one of the three is there.</summary>
/// <param name="Code">In its one written form.</param>
/// <param name="Pieces">A piece, or a tray's pieces grouped by step: what has a limit that runs first, then the earliest step.</param>
/// <param name="Batch">A batch.</param>
/// <param name="Can">A can.</param>
public sealed record CodeSheet(string Code, IReadOnlyList<PieceSheet> Pieces, BatchSheet? Batch = null, CanSheet? Can = null);

/// <summary>What lies behind a code that was scanned or typed.</summary>
public sealed class FindByCode(IDbContextFactory<ShopContext> contexts, TimeProvider time, PlanShelf plans) : IPageView
{
    /// <summary>Reads it; refuses a code with a wrong character and a code that nothing has.</summary>
    public async Task<Result<CodeSheet>> ReadAsync(string? typed, CancellationToken cancel = default)
    {
        var code = Chosen.Clean(typed);
        if (code.Length == 0)
            return new Refusal("code-missing", "Scan or type the code on the label.", "code");
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var now = time.GetUtcNow();
        if (await Chosen.PieceAsync(context, code, cancel) is { } piece)
            return await PieceAsync(context, piece, now, cancel);
        if (await Chosen.TrayAsync(context, code, cancel) is { Count: > 0 } tray)
            return await TrayAsync(context, tray, now, cancel);
        if (await context.Batches.AsNoTracking().FirstOrDefaultAsync(b => b.Code == code, cancel) is { } batch)
            return await BatchAsync(context, batch, now, cancel);
        if (await context.Cans.AsNoTracking().FirstOrDefaultAsync(c => c.Code.ToUpper() == code, cancel) is { } can)
            return await CanAsync(context, can, cancel);
        var read = ShortCode.Read(code);
        return read.IsOk
            ? new Refusal("code-unknown", $"Nothing in the workshop has the code {read.Value}.", "code")
            : Result<CodeSheet>.Refused(read.Refusals);
    }

    private static async Task<Result<CodeSheet>> PieceAsync(ShopContext context, Piece piece, DateTimeOffset now, CancellationToken cancel)
    {
        var work = await OpenWork.LoadAsync(context, now, await KinAsync(context, piece, cancel), cancel);
        var sheet = PieceSheet.Of(work, [work.Pieces.First(p => p.Id == piece.Id)], piece.Code) with
        {
            Missing = await MissingAsync(context, piece, work.LineOf(piece).Quantity, cancel),
            MayUndo = await UndoLimits.MayAsync(context, piece, cancel),
        };
        return new CodeSheet(piece.Code, await WithMeasuresAsync(context, work, [sheet], cancel));
    }

    // Once another took its place, none is missing any more.
    private static async Task<int> MissingAsync(ShopContext context, Piece piece, int wanted, CancellationToken cancel) =>
        piece is { State: PieceState.Spoiled or PieceState.Returned, IsOwn: false, IsTest: false }
        && await IsOnAsync(context, piece.Order, cancel)
            ? Math.Max(
                0,
                wanted
                    - (await context.Pieces.AsNoTracking().Where(p => p.Line == piece.Line).ToListAsync(cancel)).Count(LinePieces.IsThere)
            )
            : 0;

    private static Task<bool> IsOnAsync(ShopContext context, OrderId order, CancellationToken cancel) =>
        context.Orders.AnyAsync(o => o.Id == order && o.CancelledAt == null, cancel);

    // Blanks that have a text say which prints are given, the line whether a test piece is on its way; the rest of a long line says nothing.
    private static Task<List<PieceId>> KinAsync(ShopContext context, Piece piece, CancellationToken cancel) =>
        context
            .Pieces.Where(p => p.Line == piece.Line)
            .Where(p =>
                p.Id == piece.Id
                || p.IsTest
                || (p.Tray != null && p.Tray == piece.Tray)
                || (!piece.IsOwn && p.IsBound && p.BoundText != null)
            )
            .Select(p => p.Id)
            .ToListAsync(cancel);

    private static async Task<IReadOnlyList<PieceSheet>> WithMeasuresAsync(
        ShopContext context,
        OpenWork work,
        IReadOnlyList<PieceSheet> sheets,
        CancellationToken cancel
    )
    {
        var measured = await StepCan.AddToAsync(context, work, await UsualMinutes.AddToAsync(context, work, sheets, cancel), cancel);
        measured = await Mending.AddToAsync(context, work, measured, cancel);
        if (measured.Any(s => s is { IsTest: false, Step: { Kind: StepKind.Tape, IsRunning: false } }))
        {
            var missing = await PrintedParts.MissingAsync(context, [.. work.Orders.Keys], cancel);
            measured = [.. measured.Select(s => s with { IsUnprinted = s.IsUnprinted || s.Codes.Any(missing.Contains) })];
        }
        if (!measured.Any(s => s.IsUnprinted))
            return measured;
        var number = measured[0].Order;
        var printed = await PrintedParts.CodesAsync(
            context,
            await context.Orders.AsNoTracking().FirstAsync(o => o.Number == number, cancel),
            cancel
        );
        return [.. measured.Select(s => s with { IsUnprinted = s.IsUnprinted && !s.Codes.All(printed.Contains) })];
    }

    private static async Task<Result<CodeSheet>> TrayAsync(
        ShopContext context,
        List<Piece> tray,
        DateTimeOffset now,
        CancellationToken cancel
    )
    {
        var work = await OpenWork.LoadAsync(context, now, await KinAsync(context, tray[0], cancel), cancel);
        var code = tray[0].Tray!;
        var groups = work
            .Pieces.Where(p => p.Tray == code)
            .GroupBy(p => (p.State, Step: p.NextAttended?.Number ?? int.MaxValue, Running: p.NextAttended?.State == WorkState.Running))
            .OrderBy(g => g.Key.State is PieceState.Held or PieceState.Spoiled)
            .ThenBy(Urgency)
            .ThenBy(g => g.Key.Step)
            .ThenByDescending(g => g.Key.Running)
            .Select(g => PieceSheet.Of(work, [.. g.OrderBy(p => p.Number)], code))
            .ToList();
        for (var i = 0; i < groups.Count; i++)
            if (tray.Find(p => p.Code == groups[i].Codes[0]) is { } lost)
                groups[i] = groups[i] with { Missing = await MissingAsync(context, lost, work.LineOf(lost).Quantity, cancel) };
        return new CodeSheet(code, await WithMeasuresAsync(context, work, groups, cancel));
    }

    // Whatever has a limit that runs comes first, as on the Bench's first page.
    private static DateTimeOffset Urgency(IEnumerable<Piece> alike) =>
        alike.Min(p => p.State.IsUp() && p.NextAttended is { } next ? StepCard.TimerOf(p, next)?.Max : null) ?? DateTimeOffset.MaxValue;

    private async Task<Result<CodeSheet>> BatchAsync(ShopContext context, Batch batch, DateTimeOffset now, CancellationToken cancel)
    {
        var work = await OpenWork.LoadAsync(context, now, [.. batch.Places.Select(p => p.Piece)], cancel);
        var can = batch.Can is { } id ? await context.Cans.Where(c => c.Id == id).Select(c => c.Code).FirstAsync(cancel) : null;
        var warming = await WarmUp.ForAsync(context, work, batch, cancel);
        var sheet = BatchSheet.Of(work, batch, can) with
        {
            WarmAt = warming?.At,
            IsFirstUse = warming is { Last: null },
            PlanLetter = await plans.LatestAsync() is { } plan ? PlannedBatches.LetterOf(plan, batch, work) : null,
        };
        return new CodeSheet(batch.Code, [], await RoundSaving.AddToAsync(context, work, batch, sheet, cancel));
    }

    private static async Task<Result<CodeSheet>> CanAsync(ShopContext context, Can can, CancellationToken cancel)
    {
        var coating = await context.Coatings.Where(c => c.Id == can.Coating).Select(c => c.Name).FirstAsync(cancel);
        var pieces = await context
            .StockMoves.Where(m => m.Can == can.Id && m.Piece != null)
            .Select(m => m.Piece)
            .Distinct()
            .CountAsync(cancel);
        return new CodeSheet(
            can.Code,
            [],
            null,
            new CanSheet(can.Code, coating, can.Lot, can.LeftMl, can.FullMl, can.UseBy, can.HeldBecause, pieces)
        );
    }
}

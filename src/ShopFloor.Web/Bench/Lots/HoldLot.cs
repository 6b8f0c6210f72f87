using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Bench.Lots;

/// <summary>A lot to bar or free.</summary>
/// <param name="Can">Code of any can of the lot.</param>
/// <param name="Reason">Why.</param>
/// <param name="Free">True: the cans may be used again; pieces are released one by one after a look.</param>
public sealed record LotWish(string Can, string Reason, bool Free = false);

/// <summary>Bars a can's whole lot from use and puts aside every open piece that was coated from it.</summary>
public sealed class HoldLot(CommandRunner runner) : IUseCase
{
    public Task<Result<Moved>> RunAsync(Asked asked, LotWish wish, CancellationToken cancel = default) =>
        runner.RunAsync<LotWish, Moved>(nameof(HoldLot), Allowed.Bench, asked, wish, work => DecideAsync(work, wish, cancel), cancel);

    private static async Task<Result<Moved>> DecideAsync(CommandWork work, LotWish wish, CancellationToken cancel)
    {
        if (string.IsNullOrWhiteSpace(wish.Reason))
            return new Refusal("reason-missing", "Say why, in a few words.", "reason");
        var code = Chosen.Clean(wish.Can);
        if (await work.Context.Cans.FirstOrDefaultAsync(c => c.Code.ToUpper() == code, cancel) is not { } can)
            return new Refusal("can-unknown", $"There is no can {code}.", "can");
        var lot = await work.Context.Cans.Where(c => c.Coating == can.Coating && c.Lot == can.Lot).ToListAsync(cancel);
        foreach (var one in lot)
        {
            one.Hold(wish.Free ? null : wish.Reason.Trim());
            work.Touch(Topic.Stock, one.Id.Value);
        }
        var rounds = wish.Free ? "" : await PutBackAsync(work, [.. lot.Select(c => c.Id)], cancel);
        var pieces = wish.Free ? [] : await OpenPiecesAsync(work, [.. lot.Select(c => c.Id)], cancel);
        foreach (var piece in pieces)
            work.Happen(piece, piece.Hold($"Lot {can.Lot}: {wish.Reason.Trim()}", work.Now));
        var cans = lot.Count == 1 ? "1 can" : $"{lot.Count} cans";
        var text = wish.Free
            ? $"Lot {can.Lot} may be used again: {cans}. Pieces that were put aside stay so until somebody looks at each."
            : $"Lot {can.Lot} is barred: {cans}; {StepWords.Pieces(pieces.Count)} put aside.{rounds}";
        return new Moved(text, [.. pieces.Select(p => p.Code)]);
    }

    /// <summary>Rounds that are being put together lose a can of the lot; the answer says which, to be put after a sentence.</summary>
    private static async Task<string> PutBackAsync(CommandWork work, List<CanId> cans, CancellationToken cancel)
    {
        var rounds = await work
            .Context.Batches.Where(b => b.State == BatchState.Building && b.Can != null && cans.Contains(b.Can.Value))
            .OrderBy(b => b.Code)
            .ToListAsync(cancel);
        foreach (var round in rounds)
        {
            round.PutCanBack();
            work.Touch(Topic.Batch, round.Id.Value);
        }
        return rounds.Count == 0 ? "" : $" Another can is needed for {string.Join(", ", rounds.Select(r => r.Code))}.";
    }

    private static async Task<IReadOnlyList<Piece>> OpenPiecesAsync(CommandWork work, List<CanId> cans, CancellationToken cancel)
    {
        var ids = await work
            .Context.WorkItems.Where(i => i.Can != null && cans.Contains(i.Can.Value))
            .Select(i => i.Piece)
            .Distinct()
            .ToListAsync(cancel);
        var pieces = await work.Context.Pieces.Where(p => ids.Contains(p.Id)).OrderBy(p => p.Code).ToListAsync(cancel);
        return [.. pieces.Where(p => PieceTransitions.Allows(p.State, PieceMove.Hold))];
    }
}

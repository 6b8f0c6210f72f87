using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Documents;

namespace ShopFloor.Web.Bench.Moves;

/// <summary>
/// Makes a piece of the workshop's own stock anew in the place of one that was spoiled or went back to the shelf: booked with the steps that one was booked with,
/// planned from its first step, and one more blank is taken when it comes in. Of a sheet that is printed already it has a transfer only when
/// the lost one's was never taped on. What a customer brought cannot be made anew.
/// </summary>
public sealed class MakeAnother(CommandRunner runner) : IUseCase
{
    public Task<Result<Moved>> RunAsync(Asked asked, Target target, CancellationToken cancel = default) =>
        runner.RunAsync<Target, Moved>(
            nameof(MakeAnother),
            Allowed.Bench,
            asked,
            target,
            work => DecideAsync(work, target, cancel),
            cancel
        );

    private static async Task<Result<Moved>> DecideAsync(CommandWork work, Target target, CancellationToken cancel)
    {
        var code = Chosen.Clean(target.Code);
        if (await Chosen.PieceAsync(work.Context, code, cancel) is not { } lost)
            return new Refusal("code-unknown", $"Nothing in the workshop has the code {code}.", "code");
        if (lost is not { State: PieceState.Spoiled or PieceState.Returned, IsTest: false })
            return new Refusal("not-spoiled", $"{lost.Code} is neither spoiled nor back on the shelf: nothing takes its place.");
        if (lost.IsOwn)
            return new Refusal("own-piece", $"{lost.Code} is the customer's own piece: it cannot be made anew. Speak with the customer.");
        var siblings = await work.Context.Pieces.Where(p => p.Line == lost.Line && !p.IsTest).ToListAsync(cancel);
        var order = await work.Context.Orders.AsNoTracking().FirstAsync(o => o.Id == lost.Order, cancel);
        if (order.CancelledAt is not null)
            return new Refusal("order-off", $"Order {order.Number} was called off: nothing is made anew for it.");
        var line = order.AllLines.First(l => l.Id == lost.Line);
        var there = siblings.Count(LinePieces.IsThere);
        if (there >= line.Quantity)
            return new Refusal("none-missing", $"None is missing: {there} pieces of this line are in work or done.");
        var made = await BookAsync(work, lost, Number(lost, siblings), cancel);
        var hasPrint = await PrintedParts.PassOnAsync(work, order, lost, made, cancel);
        var again = order.PrintedAt is null || hasPrint ? "" : "; its print must be made again";
        return new Moved(
            $"{made} takes the place of {lost.Code}. Take a piece from stock and mark it {made}, then tap It came in on its page{again}.",
            [made]
        );
    }

    // One that went back unworked leaves its number to the next; what was spoiled keeps its own.
    private static int Number(Piece lost, List<Piece> siblings)
    {
        var kept = siblings.Where(p => p.State != PieceState.Returned).Select(p => p.Number).ToHashSet();
        return lost.State == PieceState.Returned && !kept.Contains(lost.Number) ? lost.Number : siblings.Max(p => p.Number) + 1;
    }

    // The steps as they were booked: rework may have changed those of the piece since.
    private static async Task<string> BookAsync(CommandWork work, Piece lost, int number, CancellationToken cancel)
    {
        var first = await work.Context.Journal.AsNoTracking().Where(e => e.Piece == lost.Id).OrderBy(e => e.Sequence).FirstAsync(cancel);
        var code = ShortCode.FromNumber(await work.NextNumberAsync("code", cancel));
        var piece = new Piece(new PieceId(Guid.CreateVersion7()));
        var booked = (PieceBooked)first.Read();
        work.Happen(piece, booked with { At = work.Now, Code = code, Number = number, Tray = null, Photos = null });
        work.Context.Pieces.Add(piece);
        return code;
    }
}

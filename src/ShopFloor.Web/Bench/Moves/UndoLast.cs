using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Bench.Moves;

/// <summary>What is to be taken back.</summary>
/// <param name="Code">A piece, for its last move; null when the command is named.</param>
/// <param name="Command">The command to take back; null: the piece's last.</param>
/// <param name="Reason">Why.</param>
public sealed record UndoWish(string? Code, Guid? Command, string Reason = "tapped by mistake");

/// <summary>
/// Takes back what one tap did, to all its pieces at once, with the batch's step and the millilitres. Nothing is edited: new entries
/// say which ones no longer count.
/// </summary>
public sealed class UndoLast(CommandRunner runner) : IUseCase
{
    public Task<Result<Moved>> RunAsync(Asked asked, UndoWish wish, CancellationToken cancel = default) =>
        runner.RunAsync<UndoWish, Moved>(nameof(UndoLast), Allowed.Bench, asked, wish, work => DecideAsync(work, wish, cancel), cancel);

    private static async Task<Result<Moved>> DecideAsync(CommandWork work, UndoWish wish, CancellationToken cancel)
    {
        var named = wish.Command is { } given ? given : await LastOfAsync(work, wish.Code, cancel);
        if (!named.IsOk)
            return Result<Moved>.Refused(named.Refusals);
        var ids = await work.Context.Journal.Where(j => j.Command == named.Value).Select(j => j.Piece).Distinct().ToListAsync(cancel);
        var turn = await TurnOfAsync(work, named.Value, cancel);
        if (ids.Count == 0)
            return await DropBack.TakeBackAsync(work, named.Value, cancel) ?? await StationAsync(work, turn, cancel);
        var pieces = await work.Context.Pieces.Where(p => ids.Contains(p.Id)).OrderBy(p => p.Code).ToListAsync(cancel);
        if (await UndoLimits.AskAsync(work.Context, named.Value, pieces, cancel) is { } no)
            return no;
        var batches = new HashSet<BatchId>();
        foreach (var piece in pieces)
        {
            var answer = await TakeBackAsync(work, piece, (named.Value, wish.Reason), batches, cancel);
            if (!answer.IsOk)
                return Result<Moved>.Refused(ManyMoves.Named(piece, answer.Refusals));
        }
        var over = await BatchesBack.StepAsync(work, named.Value, batches, cancel);
        if (!over.IsOk)
            return Result<Moved>.Refused(over.Refusals);
        var at = await work.Context.Commands.Where(c => c.Id == named.Value).Select(c => c.At).FirstAsync(cancel);
        await StockAsync(work, named.Value, at, cancel);
        if (await BatchesBack.ComeOutAsync(work, over.Value) is { IsOk: false } stays)
            return Result<Moved>.Refused(stays.Refusals);
        if (turn is not null)
            await StationTurns.TakeBackAsync(work, turn, cancel);
        return ManyMoves.Say(pieces, "taken one step back");
    }

    // What a tap did to a station stands in its answer.
    private static async Task<StationTurn?> TurnOfAsync(CommandWork work, Guid command, CancellationToken cancel) =>
        await work
            .Context.Commands.Where(c => c.Id == command && (c.Name == nameof(BringStationBack) || c.Name == nameof(StopBatch)))
            .Select(c => c.ResultJson)
            .FirstOrDefaultAsync(cancel)
            is { } answer
            ? JsonSerializer.Deserialize<Moved>(answer, JsonForms.Default)?.Station
            : null;

    private static async Task<Result<Moved>> StationAsync(CommandWork work, StationTurn? turn, CancellationToken cancel)
    {
        if (turn is null)
            return new Refusal("nothing-to-undo", "There is nothing to take back.");
        return await StationTurns.TakeBackAsync(work, turn, cancel) is { } station
            ? new Moved($"{station.Name} is as it was before.", [])
            : new Refusal("station-changed", "Somebody has changed this station since: look at what is true now.");
    }

    private static async Task<Result<Guid>> LastOfAsync(CommandWork work, string? code, CancellationToken cancel)
    {
        if (await Chosen.PieceAsync(work.Context, Chosen.Clean(code), cancel) is not { } piece)
            return new Refusal("code-unknown", "Scan the piece whose last move was wrong.", "code");
        return UndoRule.Last(Lines(await JournalAsync(work, piece.Id, cancel))) is { } last
            ? last[0].Command
            : new Refusal("nothing-to-undo", "There is nothing to take back.");
    }

    private static async Task<Result<Done>> TakeBackAsync(
        CommandWork work,
        Piece piece,
        (Guid Id, string Reason) command,
        HashSet<BatchId> batches,
        CancellationToken cancel
    )
    {
        var journal = Lines(await JournalAsync(work, piece.Id, cancel));
        var undo = UndoRule.TakeBack(journal, command.Id, work.Now, command.Reason);
        if (!undo.IsOk)
            return Result<Done>.Refused(undo.Refusals);
        batches.UnionWith(piece.Items.Select(i => i.Batch).OfType<BatchId>());
        // What is not handed over any more is not to be invoiced either.
        if (piece.State == PieceState.HandedOver)
            work.Touch(Topic.Order, piece.Order.Value);
        work.Happen(piece, undo.Value);
        await ForgetTestsAsync(work, piece, journal.FindAll(l => undo.Value.Entries.Contains(l.Id)), cancel);
        piece.Replay([.. journal.Select(l => (l.Id, l.Event)), (new EntryId(Guid.Empty), undo.Value)]);
        batches.UnionWith(piece.Items.Select(i => i.Batch).OfType<BatchId>());
        return default(Done);
    }

    // A verdict that was taken back was never given: what was kept of it for the material counts no more.
    private static async Task ForgetTestsAsync(CommandWork work, Piece piece, IEnumerable<JournalLine> undone, CancellationToken cancel)
    {
        foreach (var judged in undone.Select(l => l.Event).OfType<TestJudged>())
        foreach (var test in await work.Context.MaterialTests.Where(t => t.Piece == piece.Code && t.At == judged.At).ToListAsync(cancel))
        {
            work.Context.MaterialTests.Remove(test);
            work.Touch(Topic.Settings, test.Id);
        }
    }

    private static Task<List<JournalEntry>> JournalAsync(CommandWork work, PieceId piece, CancellationToken cancel) =>
        work.Context.Journal.AsNoTracking().Where(j => j.Piece == piece).OrderBy(j => j.Sequence).ToListAsync(cancel);

    private static List<JournalLine> Lines(List<JournalEntry> entries) =>
        entries.ConvertAll(j => new JournalLine(j.Id, j.Command, j.Read()));

    private static async Task StockAsync(CommandWork work, Guid command, DateTimeOffset at, CancellationToken cancel)
    {
        // Moves that are older than the column for their command carry the instant of the command that saved them.
        var moves = await work
            .Context.StockMoves.AsNoTracking()
            .Where(m => m.Command == command || (m.Command == Guid.Empty && m.At == at))
            .ToListAsync(cancel);
        foreach (var move in moves)
        {
            var reason = Opposite(move.Reason);
            var cause = new StockCause(reason, move.Piece, move.Batch);
            if (move.Can is { } id)
            {
                var can = await work.Context.Cans.FirstAsync(c => c.Id == id, cancel);
                if (!await IsMeasuredSinceAsync(work, move, cancel) && can.PutBack(-move.Amount) is var back and not 0)
                    work.Note(can, back, cause);
            }
            else if (
                await work.Context.StockItems.FirstOrDefaultAsync(i => i.Code == move.Item, cancel) is { } item
                && !await IsMeasuredSinceAsync(work, move, cancel)
            )
                work.Move(item, -move.Amount, cause);
        }
    }

    // What was put back and is taken again is in use again: it can be put back once more.
    private static StockReason Opposite(StockReason reason) =>
        reason switch
        {
            StockReason.Use => StockReason.UseUndone,
            StockReason.UseUndone => StockReason.Use,
            _ => StockReason.Correction,
        };

    // What a can holds, or what is there of an item, was found by weighing or counting since: that was with all that had really left it.
    // An empty can is weighed; of an item some are thrown away and nobody counts the rest.
    private static Task<bool> IsMeasuredSinceAsync(CommandWork work, StockMove move, CancellationToken cancel) =>
        work.Context.StockMoves.AnyAsync(
            m =>
                m.Can == move.Can
                && m.Item == move.Item
                && m.At > move.At
                && m.Batch == null
                && (m.Reason == StockReason.Correction || (m.Reason == StockReason.Waste && m.Can != null)),
            cancel
        );
}

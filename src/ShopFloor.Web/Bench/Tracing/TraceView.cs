using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Photos;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Bench.Tracing;

/// <summary>From a can lot, a batch, a person or a recipe version to all pieces, and from a piece to everything that made it.</summary>
public sealed class TraceView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <param name="kind"><c>piece, lot, batch, person, recipe</c>.</param>
    /// <param name="key">Code, lot, worker id, or id of the recipe version.</param>
    /// <param name="withCustomers">True for the owner.</param>
    /// <param name="cancel">Ends the read.</param>
    public async Task<Result<TraceSheet>> ReadAsync(string kind, string key, bool withCustomers, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        if (kind == "piece")
            return await PieceAsync(context, key, withCustomers, cancel);
        var found = kind switch
        {
            "lot" => await LotAsync(context, key, cancel),
            "batch" => await BatchAsync(context, key, cancel),
            "person" => await PersonAsync(context, key, cancel),
            "recipe" => await RecipeAsync(context, key, cancel),
            _ => null,
        };
        if (found is not { } match)
            return new Refusal("trace-unknown", "Nothing is known under this name.");
        var pieces = await ListAsync(context, match.Pieces, withCustomers, cancel);
        return new TraceSheet(match.Title, pieces, [], []);
    }

    private async Task<Result<TraceSheet>> PieceAsync(ShopContext context, string code, bool withCustomers, CancellationToken cancel)
    {
        if (await Chosen.PieceAsync(context, Chosen.Clean(code), cancel) is not { } piece)
            return new Refusal("code-unknown", $"There is no piece {code}.");
        var entries = await context.Journal.AsNoTracking().Where(j => j.Piece == piece.Id).OrderBy(j => j.Sequence).ToListAsync(cancel);
        var names = await context.Users.ToDictionaryAsync(u => u.Id.ToString(), u => u.DisplayName, cancel);
        var read = entries.ConvertAll(e => (Entry: e, Event: e.Read()));
        var undone = read.Select(e => e.Event).OfType<MovesUndone>().SelectMany(u => u.Entries).ToHashSet();
        var steps = piece.Items.ToDictionary(i => i.Number, i => StepWords.Of(i.Settings));
        var moves = read.Select(e => new TracedMove(
            e.Event.At,
            names.GetValueOrDefault(e.Entry.By) ?? "",
            EventWords.Of(e.Event, steps),
            undone.Contains(e.Entry.Id),
            [.. PhotoView.Of(e.Event).Select(photo => PhotoView.Address(piece.Code, photo))]
        ));
        var links = await PieceLinks.OfAsync(context, piece, read.Select(e => (e.Entry.By, e.Event)), names, cancel);
        return new TraceSheet(piece.Code, await ListAsync(context, [(piece.Id, "")], withCustomers, cancel), [.. moves.Reverse()], links);
    }

    private sealed record Match(string Title, IReadOnlyList<(PieceId Piece, string Steps)> Pieces);

    // Stock moves outlive rework: they know every piece a can ever touched. What is wiped on may not be counted; then the steps know.
    private static async Task<Match?> LotAsync(ShopContext context, string lot, CancellationToken cancel)
    {
        var cans = await context.Cans.Where(c => c.Lot == lot).Select(c => c.Id).ToListAsync(cancel);
        if (cans.Count == 0)
            return null;
        var pieces = await context
            .StockMoves.Where(m => m.Can != null && cans.Contains(m.Can.Value) && m.Piece != null)
            .Select(m => m.Piece!.Value)
            .Distinct()
            .ToListAsync(cancel);
        var steps = await context
            .WorkItems.Where(i => i.Can != null && cans.Contains(i.Can.Value))
            .Select(i => i.Piece)
            .Distinct()
            .ToListAsync(cancel);
        return new Match($"Lot {lot}", [.. pieces.Union(steps).Select(p => (p, "coated"))]);
    }

    private static async Task<Match?> BatchAsync(ShopContext context, string code, CancellationToken cancel)
    {
        var wanted = Chosen.Clean(code);
        if (await context.Batches.AsNoTracking().FirstOrDefaultAsync(b => b.Code == wanted, cancel) is not { } batch)
            return null;
        var word = StepWords.Of(batch.Kind).ToLowerInvariant();
        var measured = batch.Measured is { } m ? $", {m}" : "";
        return new Match($"{batch.Code}, {word}{measured}", [.. batch.Places.Select(p => (p.Piece, word))]);
    }

    private static async Task<Match?> PersonAsync(ShopContext context, string worker, CancellationToken cancel)
    {
        var name = Guid.TryParse(worker, out var id)
            ? await context.Users.Where(u => u.Id == id).Select(u => u.DisplayName).FirstOrDefaultAsync(cancel)
            : null;
        if (name is null)
            return null;
        var by = id.ToString();
        var pieces = await context
            .Journal.Where(j => j.By == by)
            .GroupBy(j => j.Piece)
            .Select(g => new { g.Key, Count = g.Count() })
            .ToListAsync(cancel);
        return new Match(name, [.. pieces.Select(p => (p.Key, p.Count == 1 ? "1 move" : $"{p.Count} moves"))]);
    }

    private static async Task<Match?> RecipeAsync(ShopContext context, string key, CancellationToken cancel)
    {
        if (
            !Guid.TryParse(key, out var guid)
            || await context.Recipes.AsNoTracking().FirstOrDefaultAsync(r => r.Id == new RecipeId(guid), cancel) is not { } recipe
        )
            return null;
        var id = recipe.Id;
        var lines = await context.Orders.SelectMany(o => o.Lines).Where(l => l.Recipe == id).Select(l => l.Id).ToListAsync(cancel);
        var pieces = await context.Pieces.Where(p => lines.Contains(p.Line)).Select(p => p.Id).ToListAsync(cancel);
        return new Match($"{recipe.Name}, version {recipe.Version}", [.. pieces.Select(p => (p, "by this recipe"))]);
    }

    private async Task<IReadOnlyList<TracedPiece>> ListAsync(
        ShopContext context,
        IReadOnlyList<(PieceId Piece, string Steps)> found,
        bool withCustomers,
        CancellationToken cancel
    )
    {
        var steps = found.ToDictionary(f => f.Piece, f => f.Steps);
        var work = await OpenWork.LoadAsync(context, time.GetUtcNow(), steps.Keys, cancel);
        var ids = work.Orders.Keys.ToList();
        var names = withCustomers
            ? await context.Orders.Where(o => ids.Contains(o.Id)).ToDictionaryAsync(o => o.Id, o => o.Contact.Name, cancel)
            : [];
        return
        [
            .. work
                .Pieces.OrderByDescending(p => work.Orders[p.Order].Number)
                .ThenBy(p => p.Number)
                .Select(p => new TracedPiece(
                    p.Code,
                    work.Orders[p.Order].Number,
                    names.GetValueOrDefault(p.Order) ?? "",
                    PieceSheet.Describe(work, work.LineOf(p)),
                    p.State.Words(),
                    steps[p.Id]
                )),
        ];
    }
}

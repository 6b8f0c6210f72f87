using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;

namespace ShopFloor.Web.Office.Orders.Changes;

/// <summary>
/// Makes it more or fewer pieces of a booked line, or leaves the line out, at the price that was shown. What goes was not begun; what comes
/// is made as at booking, by the recipe that holds now.
/// </summary>
public sealed class ChangeQuantity(IDbContextFactory<ShopContext> contexts, CommandRunner runner, PromiseDay promises, JudgedLines lines)
    : IUseCase
{
    private const string Why = "no longer ordered";

    /// <summary>Does it; the answer is the promise, UTC.</summary>
    public async Task<Result<DateTimeOffset>> RunAsync(Asked asked, QuantityInput input, CancellationToken cancel = default)
    {
        await PrepareAsync(input, cancel);
        return await runner.RunAsync<QuantityInput, DateTimeOffset>(
            nameof(ChangeQuantity),
            Allowed.Owner,
            asked,
            input,
            work => DecideAsync(work, input, cancel),
            cancel
        );
    }

    /// <summary>Computes what the gate will ask for, which finds it remembered unless something happens in between.</summary>
    private async Task PrepareAsync(QuantityInput input, CancellationToken cancel)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        if (await context.Orders.AsNoTracking().FirstOrDefaultAsync(o => o.Id == input.Order, cancel) is not { } order)
            return;
        var shop = await ShopFacts.LoadAsync(context, runner.Now, cancel);
        var resized = await ResizedLine.OfAsync(context, order, input, (shop, lines), cancel);
        if (resized is { IsOk: true, Value.Asked: { } asked })
            await promises.ForAsync(asked, cancel);
    }

    private async Task<Result<DateTimeOffset>> DecideAsync(CommandWork work, QuantityInput input, CancellationToken cancel)
    {
        var found = await SeenOrder.FindAsync(work, (input.Order, input.SeenVersion), cancel);
        if (!found.IsOk)
            return Result<DateTimeOffset>.Refused(found.Refusals);
        var order = found.Value;
        var before = order.Lines.Where(l => l.Number == input.Line).Select(l => Words(l, order)).FirstOrDefault("");
        var shop = await ShopFacts.LoadAsync(work.Context, work.Now, cancel);
        var resized = await ResizedLine.OfAsync(work.Context, order, input, (shop, lines), cancel);
        if (!resized.IsOk)
            return Result<DateTimeOffset>.Refused(resized.Refusals);
        if (resized.Value.Fingerprint != input.ShownPrice)
            return new Refusal("price-moved", "The price has changed since it was shown. Please look at the new price, then confirm.");
        if (await PromiseAsync(work, order, resized.Value.Asked, cancel) is { Count: > 0 } late)
            return Result<DateTimeOffset>.Refused(late);
        var moved = await MoveAsync(work, order, resized.Value, cancel);
        if (!moved.IsOk)
            return Result<DateTimeOffset>.Refused(moved.Refusals);
        work.Audit("pieces changed", SeenOrder.Subject(order), before, Words(resized.Value.Line, order));
        return order.PromisedAt;
    }

    /// <summary>The promise is moved when what comes on top needs longer, never forward.</summary>
    private async Task<IReadOnlyList<Refusal>> PromiseAsync(CommandWork work, Order order, AskedOrder? asked, CancellationToken cancel)
    {
        if (asked is null)
            return [];
        var promised = await promises.NowAsync(work.Context, asked, cancel) ?? await promises.ForAsync(asked, cancel);
        if (promised.At is not { } at)
            return promised.NoDate("The workshop cannot make this within the days it plans ahead.", "quantity");
        if (at > order.PromisedAt)
            order.Promise(at);
        return [];
    }

    private static async Task<Result<Done>> MoveAsync(CommandWork work, Order order, ResizedLine resized, CancellationToken cancel)
    {
        foreach (var piece in resized.Moves.Back)
        {
            if (work.Happen(piece, piece.Return(Why, work.Now)) is { IsOk: false } no)
                return no;
            await UseStock.PutBackAsync(work, piece, cancel);
        }
        if (resized.Moves.New.Count == 0)
            return default(Done);
        var steps = resized.Judged!.Steps;
        var pieces = new PiecesToBook(resized.Moves.New, steps) { Tray = Tray(resized, steps) };
        await BookPieces.AddAsync(work, order.Id, resized.Line, pieces, cancel);
        return default(Done);
    }

    /// <summary>The tray of the line, while nothing on it was begun and it goes the same way.</summary>
    private static string? Tray(ResizedLine resized, IReadOnlyList<RecipeStep> steps)
    {
        var there = resized.Pieces.Where(p => LinePieces.IsThere(p) && p.Tray is not null).ToList();
        bool IsAlike(Piece piece) =>
            piece.State == PieceState.Booked && piece.Items.OrderBy(i => i.Number).Select(i => i.Settings).SequenceEqual(steps);
        return there.Count > 0 && there.TrueForAll(IsAlike) ? there[^1].Tray : null;
    }

    private static string Words(OrderLine line, Order order) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"line {line.Number}: {line.Quantity} pieces, {new Money(line.Price.Gross, order.Currency)} with tax; deposit {new Money(order.Deposit, order.Currency)}"
        );
}

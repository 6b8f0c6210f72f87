using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Quantities;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Invoices;

namespace ShopFloor.Web.Office.Orders;

/// <summary>What may be done to a booked order from the Office.</summary>
public enum OrderAct
{
    /// <summary>The inner note.</summary>
    Note,

    /// <summary>The proof is right.</summary>
    ApproveProof,

    /// <summary>All good pieces go to the customer.</summary>
    HandOver,

    /// <summary>Called off: own pieces that are here wait to be given back.</summary>
    Cancel,

    /// <summary>The own pieces that waited for it are with their customer again.</summary>
    GiveBack,
}

/// <summary>What the owner wants.</summary>
public sealed record OrderChange(OrderId Order, int SeenVersion, OrderAct Act, string Text);

/// <summary>Changes a booked order. Its price and its pieces' steps stay as agreed.</summary>
public sealed class ChangeOrder(CommandRunner runner) : IUseCase
{
    /// <summary>Does it.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, OrderChange change, CancellationToken cancel = default) =>
        runner.RunAsync<OrderChange, Done>(
            nameof(ChangeOrder),
            Allowed.Owner,
            asked,
            change,
            work => DecideAsync(work, change, cancel),
            cancel
        );

    private static async Task<Result<Done>> DecideAsync(CommandWork work, OrderChange change, CancellationToken cancel)
    {
        var order = await work.Context.Orders.FirstOrDefaultAsync(o => o.Id == change.Order, cancel);
        if (order is null)
            return new Refusal("order-missing", "This order is no longer there.");
        if (CommandWork.IfChanged(change.SeenVersion, order.Version, $"order {order.Number}") is { } changed)
            return changed;
        work.Touch(Topic.Order, order.Id.Value);
        return change.Act switch
        {
            OrderAct.Note => order.Write(change.Text),
            OrderAct.ApproveProof => order.ApproveProof("approved in the Office"),
            OrderAct.GiveBack => await GiveBackAsync(work, order, cancel),
            OrderAct.HandOver => await HandOverAsync(work, order, cancel),
            _ => await CancelAsync(work, order, change.Text, cancel),
        };
    }

    private static async Task<Result<Done>> HandOverAsync(CommandWork work, Order order, CancellationToken cancel)
    {
        var good = await work
            .Context.Pieces.Where(p => p.Order == order.Id && p.State == PieceState.CheckedGood && !p.IsTest)
            .ToListAsync(cancel);
        if (good.Count == 0)
            return new Refusal("nothing-ready", "No piece of this order is checked good yet.");
        // What is still to be packed stays; where all of it is, the piece says so.
        var packed = good.Where(p => p.Current is null).ToList();
        return HandOver.Give(work, packed.Count > 0 ? packed : good);
    }

    private static async Task<Result<Done>> GiveBackAsync(CommandWork work, Order order, CancellationToken cancel)
    {
        var isOff = order.CancelledAt is not null;
        var here = await work
            .Context.Pieces.Where(p => p.Order == order.Id)
            .Where(p => p.State == PieceState.GoingBack || (isOff && p.IsOwn && !p.IsTest && p.State == PieceState.CheckedGood))
            .OrderBy(p => p.Code)
            .ToListAsync(cancel);
        if (here.Count == 0)
            return new Refusal("nothing-here", "No piece of this order waits to be given back.");
        foreach (var piece in here)
            if (GiveBack(work, piece) is { IsOk: false } no)
                return no;
        return default(Done);
    }

    // One that has come out well goes as it is: what is left of its way, such as packing, is left out.
    private static Result<Done> GiveBack(CommandWork work, Piece piece)
    {
        const string Why = "the order was called off";
        if (piece.State == PieceState.GoingBack)
            return work.Happen(piece, piece.Return(Why, work.Now));
        if (piece.NextAttended is { State: WorkState.Running } running)
            if (work.Happen(piece, piece.BreakOff(running.Number, Why, work.Now)) is { IsOk: false } no)
                return no;
        while (piece.NextAttended is { } next)
            if (work.Happen(piece, piece.Skip(next.Number, work.Now, Why)) is { IsOk: false } no)
                return no;
        return work.Happen(piece, piece.HandOver(work.Now));
    }

    private static Refusal? WhyNotOff(IReadOnlyCollection<Piece> pieces)
    {
        var begun = pieces.Count(p => p.State is PieceState.InWork or PieceState.Reworking);
        if (begun > 0)
            return new Refusal("begun", $"{begun} pieces are in work. Hold or finish them first, then decide with the customer.");
        return Readiness.IsOver([.. pieces.Where(p => !p.IsTest).Select(p => p.State)])
            ? new Refusal(
                "order-over",
                "Its pieces are with the customer: there is nothing left to call off. What is wrong with them is a complaint."
            )
            : null;
    }

    private static async Task<Result<Done>> CancelAsync(CommandWork work, Order order, string reason, CancellationToken cancel)
    {
        var pieces = await work.Context.Pieces.Where(p => p.Order == order.Id).ToListAsync(cancel);
        if (WhyNotOff(pieces) is { } no)
            return no;
        var leaving = pieces.FindAll(p => PieceTransitions.Allows(p.State, PieceMove.Return));
        var batches = RunBatch.Of(leaving);
        foreach (var piece in leaving)
        {
            await SprayStock.PostBrokenOffAsync(work, piece);
            if (work.Happen(piece, piece.CallOff(reason, work.Now)) is { IsOk: false } stays)
                return stays;
            await UseStock.PutBackAsync(work, piece, cancel);
        }
        foreach (var batch in batches)
            await RunBatch.CloseIfOverAsync(work, batch, work.Now);
        // Where nothing was made there is nothing to send: what was asked for beside the pieces falls with them. A fee can be asked for anew.
        if (
            !pieces.Exists(p => p.State.IsGood() && !p.IsTest)
            && await OrderAccount.LoadAsync(work.Context, order.Id, work.Now, cancel) is { } account
        )
            foreach (var charge in account.OpenCharges)
            {
                order.Uncharge(order.Charges.First(c => c.Number == charge.Number));
                work.Audit("charge taken back", $"order {order.Number}", new Money(charge.Amount, order.Currency).ToString(), "");
            }
        order.Cancel(work.Now);
        return default(Done);
    }
}

using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Counter.Clerk;

/// <summary>A picture of a booked order laid anew.</summary>
/// <param name="Order">The order.</param>
/// <param name="Line">The line's number.</param>
/// <param name="Picture">The picture that was seen on it.</param>
/// <param name="Placement">How it shall lie.</param>
public sealed record LaidAnew(OrderId Order, int Line, PictureId Picture, PictureOnFace Placement);

/// <summary>Lays the picture of a booked order anew on its piece, until it is printed; the price stays as it was agreed.</summary>
public sealed class LayOrderPicture(CommandRunner runner) : IUseCase
{
    /// <summary>Does it; on an own piece the customer then approves anew.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, LaidAnew laid, CancellationToken cancel = default) =>
        runner.RunAsync<LaidAnew, Done>(
            nameof(LayOrderPicture),
            Allowed.Bench,
            asked,
            laid,
            async work =>
            {
                if (await work.Context.Orders.FirstOrDefaultAsync(o => o.Id == laid.Order, cancel) is not { } order)
                    return new Refusal("order-missing", "There is no such order.");
                work.Touch(Topic.Order, order.Id.Value);
                return order.Lay(laid.Line, laid.Picture, laid.Placement);
            },
            cancel
        );
}

/// <summary>A line of a booked order with its picture, to lay it anew.</summary>
/// <param name="Number">The order's number.</param>
/// <param name="Entry">The line as it can be drawn and laid.</param>
/// <param name="Rules">By what pictures are laid and judged.</param>
/// <param name="WaitsAgain">Somebody has to approve of it again.</param>
public sealed record PlaceSheet(int Number, LineEntry Entry, PrintRules Rules, bool WaitsAgain);

/// <summary>Reads a line of a booked order to lay its picture anew.</summary>
public sealed class PlaceView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>The line, or why its picture cannot be laid.</summary>
    public async Task<Result<PlaceSheet>> LoadAsync(OrderId id, int number, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var order = await context.Orders.AsNoTracking().FirstOrDefaultAsync(o => o.Id == id, cancel);
        if (order?.Lines.FirstOrDefault(l => l.Number == number) is not { Picture: { } shown } line)
            return new Refusal("picture-none", "There is no picture on this line.");
        var may = order.MayLay();
        if (!may.IsOk)
            return Result<PlaceSheet>.Refused(may.Refusals);
        var picture = await context.Pictures.AsNoTracking().FirstOrDefaultAsync(p => p.Id == shown, cancel);
        if (picture is null)
            return new Refusal("picture-gone", "The picture is no longer kept. Please add it again.");
        var profile = (await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel)).Profile;
        return new PlaceSheet(
            order.Number,
            LineAgain.Of(line, picture, profile.BleedMillimetres),
            PrintRules.Of(profile),
            line.Piece.IsOwn || order.Proof != ProofState.NotNeeded
        );
    }
}

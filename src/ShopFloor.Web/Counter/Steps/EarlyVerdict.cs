using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;

namespace ShopFloor.Web.Counter.Steps;

/// <summary>Says of a piece that no finish can be made on it, as soon as that is known: nobody should choose pictures for it first.</summary>
public sealed class EarlyVerdict(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>The refusal with its reasons; null: it may be taken.</summary>
    public async Task<LineQuote?> RunAsync(PieceDescription piece, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        return JudgeLine.Barred(piece, await ShopFacts.LoadAsync(context, time.GetUtcNow(), cancel));
    }
}

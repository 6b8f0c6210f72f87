using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;

namespace ShopFloor.Web.Counter.Intake;

/// <summary>What a finish would mean for a line.</summary>
/// <param name="Verdict">Whether it can be taken.</param>
/// <param name="Sentence">In plain words.</param>
/// <param name="Total">Price of the line as shown; null when there is none.</param>
public sealed record FinishOffer(Verdict Verdict, string Sentence, decimal? Total);

/// <summary>What every finish of a line would cost, so that one can be compared with another.</summary>
public sealed class FinishPrices(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>The offers by finish.</summary>
    /// <param name="line">The line.</param>
    /// <param name="order">Whether it is done first, and for which known customer, whose group may have a discount.</param>
    /// <param name="finishes">What is compared.</param>
    /// <param name="cancel">Stops it.</param>
    public async Task<IReadOnlyDictionary<Finish, FinishOffer>> RunAsync(
        LineInput line,
        (bool IsRush, CustomerId? Customer) order,
        IReadOnlyList<Finish> finishes,
        CancellationToken cancel = default
    )
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var shop = await ShopFacts.LoadAsync(context, time.GetUtcNow(), cancel);
        var group = await JudgedOrder.GroupAsync(context, order.Customer, cancel);
        return finishes.ToDictionary(
            f => f,
            f => Offer(JudgeLine.Of(line with { Finish = f, PriceByHand = null }, shop, order.IsRush, group).Quote)
        );
    }

    private static FinishOffer Offer(LineQuote quote) =>
        new(
            quote.Verdict,
            quote.VerdictText.Length > 0 ? quote.VerdictText
                : quote.Faults.Count > 0 ? quote.Faults[0].Text
                : "",
            quote.Price?.LineTotal.Amount
        );
}

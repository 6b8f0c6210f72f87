using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Office.Stock;

/// <summary>A purchase price of a stock item.</summary>
/// <param name="Code">The item.</param>
/// <param name="From">The first day it holds, shop-local.</param>
/// <param name="Price">Of one, without tax.</param>
public sealed record ItemPriceInput(string Code, DateOnly From, decimal Price);

/// <summary>Enters what one of a stock item costs from a day on. Orders that are booked keep the price they were made with.</summary>
public sealed class PriceItem(CommandRunner runner) : IUseCase
{
    /// <summary>Enters it.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, ItemPriceInput input, CancellationToken cancel = default) =>
        runner.RunAsync<ItemPriceInput, Done>(nameof(PriceItem), Allowed.Owner, asked, input, w => DecideAsync(w, input, cancel), cancel);

    private static async Task<Result<Done>> DecideAsync(CommandWork work, ItemPriceInput input, CancellationToken cancel)
    {
        if (await work.Context.StockItems.FirstOrDefaultAsync(i => i.Code == input.Code, cancel) is not { } item)
            return new Refusal("item-missing", "This item is no longer there.");
        var before = item.Prices;
        var done = item.PriceFrom(input.From, input.Price);
        if (!done.IsOk)
            return done;
        work.Audit(
            "item price changed",
            item.Code,
            JsonSerializer.Serialize(before, JsonForms.Default),
            JsonSerializer.Serialize(item.Prices, JsonForms.Default)
        );
        work.Touch(Topic.Stock, Guid.Empty);
        work.Touch(Topic.Price, Guid.Empty);
        return done;
    }
}

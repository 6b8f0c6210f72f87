using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Office.Stock;

/// <summary>Counted stock that came in or was thrown away.</summary>
/// <param name="Code">Which item.</param>
/// <param name="Amount">How much, above 0, in the item's unit.</param>
/// <param name="IsWaste">True: it was thrown away; false: it came in.</param>
/// <param name="Note">Delivery slip, or why it was thrown away; at most 200 characters, wanted for waste.</param>
public sealed record ItemMove(string Code, decimal Amount, bool IsWaste, string Note);

/// <summary>Books counted stock in or off.</summary>
public sealed class MoveItem(CommandRunner runner) : IUseCase
{
    /// <summary>Books it.</summary>
    /// <returns>What is there now.</returns>
    public Task<Result<decimal>> RunAsync(Asked asked, ItemMove input, CancellationToken cancel = default) =>
        runner.RunAsync<ItemMove, decimal>(nameof(MoveItem), Allowed.Owner, asked, input, work => DecideAsync(work, input, cancel), cancel);

    private static async Task<Result<decimal>> DecideAsync(CommandWork work, ItemMove input, CancellationToken cancel)
    {
        var item = await work.Context.StockItems.FirstOrDefaultAsync(i => i.Code == input.Code, cancel);
        if (item is null)
            return new Refusal("item-missing", "This item is no longer there.");
        if (input.Amount is <= 0 or > 1_000_000)
            return new Refusal("amount", "Enter an amount above 0 and at most 1,000,000.", "amount");
        if (input.Note.Length > 200 || (input.IsWaste && string.IsNullOrWhiteSpace(input.Note)))
            return new Refusal("note", "Say why it is thrown away, in at most 200 characters.", "note");
        var (amount, reason) = input.IsWaste ? (-input.Amount, StockReason.Waste) : (input.Amount, StockReason.Delivery);
        work.Move(item, amount, new StockCause(reason, Note: input.Note.Trim()));
        return item.OnHand;
    }
}

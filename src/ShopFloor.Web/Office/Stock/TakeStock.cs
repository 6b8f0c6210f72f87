using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Office.Stock;

/// <summary>What was counted of one thing.</summary>
/// <param name="Can">The can; null for counted stock.</param>
/// <param name="Item">Code of the stock item; null for a can.</param>
/// <param name="Booked">What the list said when it was counted: a count is a count of that moment.</param>
/// <param name="Counted">What is really there, in ml or the item's unit, at least 0.</param>
public sealed record Counted(CanId? Can, string? Item, decimal Booked, decimal Found);

/// <summary>A stock-take.</summary>
/// <param name="Reason">Why it was done, 3 to 200 characters, e.g. <c>end of quarter</c>.</param>
/// <param name="Lines">What was counted; what is not in it stays as it is.</param>
public sealed record StockCount(string Reason, IReadOnlyList<Counted> Lines);

/// <summary>
/// Books the differences of a stock-take as moves with their reason. Work that went on between counting and saving is kept: the
/// difference counts against what the list said, not against what the book says by now. A count without a difference is a move of nothing: what
/// is taken back later was with what was found.
/// </summary>
public sealed class TakeStock(CommandRunner runner) : IUseCase
{
    /// <summary>Books them.</summary>
    /// <returns>How many amounts were corrected.</returns>
    public Task<Result<int>> RunAsync(Asked asked, StockCount input, CancellationToken cancel = default) =>
        runner.RunAsync<StockCount, int>(nameof(TakeStock), Allowed.Owner, asked, input, work => DecideAsync(work, input, cancel), cancel);

    private static async Task<Result<int>> DecideAsync(CommandWork work, StockCount input, CancellationToken cancel)
    {
        var faults = new List<Refusal>();
        if (input.Reason.Trim().Length is < 3 or > 200)
            faults.Add(new Refusal("reason", "Say why stock was taken, in 3 to 200 characters.", "reason"));
        if (input.Lines.Count == 0)
            faults.Add(new Refusal("nothing-counted", "Enter what you counted beside at least one line.", "reason"));
        var cause = new StockCause(StockReason.Correction, Note: $"stock-take: {input.Reason.Trim()}");
        var corrected = 0;
        foreach (var line in input.Lines)
        {
            var change = line.Found - line.Booked;
            var fault = line.Can is { } can
                ? await CanAsync(work, can, change, cause, cancel)
                : await ItemAsync(work, line, change, cause, cancel);
            if (fault is not null)
                faults.Add(fault);
            else if (change != 0)
                corrected++;
        }
        return faults.Count > 0 ? Result<int>.Refused(faults) : corrected;
    }

    private static async Task<Refusal?> CanAsync(CommandWork work, CanId id, decimal change, StockCause cause, CancellationToken cancel)
    {
        var can = await work.Context.Cans.FirstOrDefaultAsync(c => c.Id == id, cancel);
        if (can is null)
            return new Refusal("can-unknown", "A can of the list is no longer there. Open the page again.");
        if (change == 0)
        {
            work.Note(can, 0, cause);
            return null;
        }
        var weighed = can.Weigh(Math.Max(0, can.LeftMl + change));
        if (!weighed.IsOk)
            return weighed.Refusals[0] with { Text = $"{can.Code}: {weighed.Refusals[0].Text}", Field = $"can-{can.Code}" };
        work.Note(can, weighed.Value, cause);
        return null;
    }

    private static async Task<Refusal?> ItemAsync(
        CommandWork work,
        Counted line,
        decimal change,
        StockCause cause,
        CancellationToken cancel
    )
    {
        var item = await work.Context.StockItems.FirstOrDefaultAsync(i => i.Code == line.Item, cancel);
        if (item is null)
            return new Refusal("item-missing", "An item of the list is no longer there. Open the page again.");
        if (line.Found is < 0 or > 1_000_000)
            return new Refusal("counted", $"{item.Name}: a count is from 0 to 1,000,000.", $"item-{item.Code}");
        work.Move(item, change, cause);
        return null;
    }
}

using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Office.Stock;

/// <summary>A can that goes.</summary>
/// <param name="Can">Which.</param>
/// <param name="SeenVersion">Its version when the page showed it.</param>
/// <param name="IsWaste">True: it is thrown away with what is in it; false: it turned out to be empty.</param>
/// <param name="Note">Why, at most 200 characters; wanted for waste.</param>
public sealed record CanEnd(CanId Can, int SeenVersion, bool IsWaste, string Note);

/// <summary>Takes a can off the shelf: nothing is left in it for the work.</summary>
public sealed class EmptyCan(CommandRunner runner) : IUseCase
{
    /// <summary>Takes it off.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, CanEnd input, CancellationToken cancel = default) =>
        runner.RunAsync<CanEnd, Done>(nameof(EmptyCan), Allowed.Owner, asked, input, work => DecideAsync(work, input, cancel), cancel);

    private static async Task<Result<Done>> DecideAsync(CommandWork work, CanEnd input, CancellationToken cancel)
    {
        var can = await work.Context.Cans.FirstOrDefaultAsync(c => c.Id == input.Can, cancel);
        if (can is null)
            return new Refusal("can-unknown", "This can is no longer there.");
        if (CommandWork.IfChanged(input.SeenVersion, can.Version, $"can {can.Code}") is { } changed)
            return changed;
        if (can.LeftMl == 0)
            return new Refusal("can-empty", $"Can {can.Code} is empty in the book already.");
        if (input.Note.Length > 200 || (input.IsWaste && string.IsNullOrWhiteSpace(input.Note)))
            return new Refusal("note", "Say why it is thrown away, in at most 200 characters.", "why");
        var reason = input.IsWaste ? StockReason.Waste : StockReason.Correction;
        return can.Weigh(0)
            .Then<Done>(change =>
            {
                work.Note(can, change, new StockCause(reason, Note: input.Note.Trim()));
                return default(Done);
            });
    }
}

using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Film;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Office.Stock;

/// <summary>A can on the scale.</summary>
/// <param name="Can">Which.</param>
/// <param name="SeenVersion">Its version when the page showed it.</param>
/// <param name="GrossGrams">Its weight without the cap, g.</param>
public sealed record CanWeighing(CanId Can, int SeenVersion, decimal GrossGrams);

/// <summary>What the weighing did.</summary>
/// <param name="LeftMl">What is left now, ml.</param>
/// <param name="ChangeMl">What was booked, ml; negative: less than the book said.</param>
public sealed record CanWeighed(decimal LeftMl, decimal ChangeMl);

/// <summary>Corrects what is left in a can by its weight; the difference is a stock move.</summary>
public sealed class WeighCan(CommandRunner runner) : IUseCase
{
    /// <summary>Corrects it.</summary>
    public Task<Result<CanWeighed>> RunAsync(Asked asked, CanWeighing input, CancellationToken cancel = default) =>
        runner.RunAsync<CanWeighing, CanWeighed>(
            nameof(WeighCan),
            Allowed.Owner,
            asked,
            input,
            work => DecideAsync(work, input, cancel),
            cancel
        );

    private static async Task<Result<CanWeighed>> DecideAsync(CommandWork work, CanWeighing input, CancellationToken cancel)
    {
        var can = await work.Context.Cans.FirstOrDefaultAsync(c => c.Id == input.Can, cancel);
        if (can is null)
            return new Refusal("can-unknown", "This can is no longer there.");
        if (CommandWork.IfChanged(input.SeenVersion, can.Version, $"can {can.Code}") is { } changed)
            return changed;
        var settings = (await work.Context.Coatings.FirstAsync(c => c.Id == can.Coating, cancel)).Settings;
        if (settings is not { EmptyCanGrams: { } empty, ContentGramsPerMl: { } density })
            return new Refusal("tare-missing", "Enter the empty can's weight and the content's density with the coating first.", "gross");
        var left = CanContent.LeftMillilitres((double)input.GrossGrams, (double)empty, (double)density, (double)can.FullMl);
        if (!left.IsOk)
            return Result<CanWeighed>.Refused(left.Refusals);
        var ml = Math.Round((decimal)left.Value.Value, 1, MidpointRounding.AwayFromZero);
        return can.Weigh(ml)
            .Then<CanWeighed>(change =>
            {
                var note = string.Create(CultureInfo.InvariantCulture, $"weighed {input.GrossGrams:0.#} g");
                work.Note(can, change, new StockCause(StockReason.Correction, Note: note));
                return new CanWeighed(can.LeftMl, change);
            });
    }
}

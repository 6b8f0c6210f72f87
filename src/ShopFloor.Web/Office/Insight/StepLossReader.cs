using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Yield;
using ShopFloor.Web.Office.Recipes;

namespace ShopFloor.Web.Office.Insight;

/// <summary>Reads from the journals of pieces at which steps they were lost and sent back.</summary>
internal static class StepLossReader
{
    internal static async Task<IReadOnlyList<StepLossGroup>> ReadAsync(
        ShopContext context,
        IReadOnlyList<(PieceId Id, Finish Finish, string Material)> pieces,
        CancellationToken cancel
    )
    {
        var ids = pieces.Select(p => p.Id).Distinct().ToList();
        var entries = await context.Journal.AsNoTracking().Where(j => ids.Contains(j.Piece)).OrderBy(j => j.Sequence).ToListAsync(cancel);
        var ends = entries
            .GroupBy(e => e.Piece)
            .ToDictionary(g => g.Key, g => StepLosses.Of(StepRuns.Counting([.. g.Select(e => (e.Id, e.Read()))])));
        return
        [
            .. pieces
                .Where(p => ends.ContainsKey(p.Id))
                .GroupBy(p => (p.Finish, p.Material))
                .OrderBy(g => g.Key)
                .Select(g => Group(g.Key.Finish, g.Key.Material, [.. g.Select(p => ends[p.Id])])),
        ];
    }

    private static StepLossGroup Group(Finish finish, string material, IReadOnlyList<IReadOnlyDictionary<StepPlace, StepEnd>> pieces)
    {
        // The number of a step may differ from one version of the recipe to the next; what is done does not.
        var steps = pieces
            .SelectMany(p => p)
            .GroupBy(s => (s.Key.Kind, s.Key.Coating, s.Key.Nth))
            .OrderBy(g => g.Average(s => s.Key.Number))
            .Select(g => Row(g.First().Key, [.. g.Select(s => s.Value)]))
            .ToList();
        var rolled = ProcessYield.Rolled([.. steps.Select(s => (double)s.FirstPassPercent / 100)]);
        return new StepLossGroup(
            finish.Words(),
            material,
            pieces.Count,
            rolled.IsOk ? (decimal)rolled.Value.Value * 100 : 100,
            [.. steps.Where(s => s.Lost + s.Reworked > 0)]
        );
    }

    private static StepLossRow Row(StepPlace step, IReadOnlyList<StepEnd> ends)
    {
        var (lost, reworked) = (ends.Count(e => e == StepEnd.Lost), ends.Count(e => e == StepEnd.Reworked));
        var words = RecipeNumbers.Words(new RecipeStep(step.Number, step.Kind) { Coating = step.Coating });
        return new StepLossRow(
            step.Nth == 1 ? words : string.Create(CultureInfo.InvariantCulture, $"{words}, {step.Nth}"),
            ends.Count,
            lost,
            reworked,
            RejectRate.Likely(ends.Count - lost - reworked, ends.Count).Value.Value
        );
    }
}

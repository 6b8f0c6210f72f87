using ShopFloor.Data;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Bench.Moves;

namespace ShopFloor.Web.Bench.Reading;

/// <summary>The can to wipe from, said beside the step: it is the one that the piece remembers. Where one does not last for all, those after it too.</summary>
internal static class WipeCan
{
    /// <summary>The sheets whose next step is wiped on, with its can.</summary>
    internal static async Task<IReadOnlyList<PieceSheet>> AddToAsync(
        ShopContext context,
        OpenWork work,
        IReadOnlyList<PieceSheet> sheets,
        CancellationToken cancel
    )
    {
        var today = work.Settings.Day(work.Now);
        var with = new List<PieceSheet>();
        foreach (var sheet in sheets)
        {
            var items = work.Pieces.Where(p => sheet.Codes.Contains(p.Code)).Select(p => p.NextAttended).OfType<WorkItem>().ToList();
            var wiped = items.FindAll(i => i.Kind == StepKind.Wipe);
            var cans = (await SprayStock.WipedFromAsync(context, wiped, today, cancel))
                .OfType<Can>()
                .Select(c => c.Code)
                .Distinct()
                .ToList();
            with.Add(
                cans.Count == 0 || sheet.Step is not { } step
                    ? sheet
                    : sheet with
                    {
                        Step = step with { Settings = [.. step.Settings, new Setting("Can", string.Join(", ", cans))] },
                    }
            );
        }
        return with;
    }
}

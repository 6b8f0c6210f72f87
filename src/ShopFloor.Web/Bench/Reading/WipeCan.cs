using ShopFloor.Data;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench.Moves;

namespace ShopFloor.Web.Bench.Reading;

/// <summary>The can to wipe from, said beside the step: it is the one that the piece remembers.</summary>
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
            var next = work.Pieces.First(p => p.Code == sheet.Codes[0]).NextAttended;
            var can = next is { Kind: StepKind.Wipe } ? await SprayStock.WipedFromAsync(context, next, today, cancel) : null;
            with.Add(
                can is null || sheet.Step is not { } step
                    ? sheet
                    : sheet with
                    {
                        Step = step with { Settings = [.. step.Settings, new Setting("Can", can.Code)] },
                    }
            );
        }
        return with;
    }
}

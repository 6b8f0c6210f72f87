using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Bench.Moves;

namespace ShopFloor.Web.Bench.Reading;

/// <summary>
/// The can to wipe or to spray from, said beside the step. Wiped from is the one that the piece remembers, and where one does not last for
/// all, those after it too; sprayed from is the one that a round of these would take, and how long it is shaken before.
/// </summary>
internal static class StepCan
{
    /// <summary>The sheets whose next step is wiped or sprayed on, with its can.</summary>
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
            var pieces = work.Pieces.Where(p => sheet.Codes.Contains(p.Code)).ToList();
            var items = pieces.Select(p => p.NextAttended).OfType<WorkItem>().ToList();
            var wiped = items.FindAll(i => i.Kind == StepKind.Wipe);
            var cans = (await SprayStock.WipedFromAsync(context, wiped, today, cancel))
                .OfType<Can>()
                .Select(c => c.Code)
                .Distinct()
                .ToList();
            var (says, missing) =
                cans.Count > 0
                    ? ([new Setting("Can", string.Join(", ", cans))], null)
                    : await SprayedFromAsync(context, items, today, cancel);
            missing ??= pieces.Count == 0 ? null : await CoatToCome.MissingAsync(context, pieces[0], today, cancel);
            with.Add(
                sheet.Step is { } step ? sheet with { Step = step with { Settings = [.. step.Settings, .. says], NoCan = missing } } : sheet
            );
        }
        return with;
    }

    // Once it is begun the round's own page says it.
    private static async Task<(IReadOnlyList<Setting> Says, string? Missing)> SprayedFromAsync(
        ShopContext context,
        List<WorkItem> items,
        DateOnly today,
        CancellationToken cancel
    )
    {
        var sprayed = items.FindAll(i => i is { Kind: StepKind.Spray, State: not WorkState.Running });
        if (sprayed.Count == 0 || sprayed[0].Settings.Coating is not { } kind)
            return ([], null);
        var chosen = await SprayStock.ChooseAsync(context, kind, null, sprayed.Sum(i => i.Settings.Ml), today);
        if (!chosen.IsOk)
            return ([new Setting("Can", "?")], chosen.Refusals[0].Text);
        var coating = await context.Coatings.AsNoTracking().FirstAsync(c => c.Id == chosen.Value.Coating, cancel);
        return ([new Setting("Can", chosen.Value.Code), new Setting("Shake", StepWords.Span(coating.Settings.ShakeSeconds))], null);
    }
}

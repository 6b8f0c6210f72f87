using ShopFloor.Domain.Film;
using ShopFloor.Planning.Exchange;

namespace ShopFloor.Web.Background.Plans;

/// <summary>A spray round of a plan.</summary>
/// <param name="Id">Its name in the plan.</param>
/// <param name="FirstS">When its first piece is sprayed, seconds from the plan's zero.</param>
/// <param name="Coating">What is sprayed.</param>
/// <param name="Pieces">How many.</param>
/// <param name="AloneMl">What its pieces take one by one, as the plan counts them, ml.</param>
/// <param name="Use">What it takes laid side by side; null: nothing is saved.</param>
public sealed record PlannedRound(string Id, int FirstS, string Coating, int Pieces, decimal AloneMl, RoundUse? Use);

/// <summary>What the rounds of a plan take and save.</summary>
public static class PlannedRounds
{
    /// <summary>All rounds, by start.</summary>
    public static IReadOnlyList<PlannedRound> Of(Day day, Plan plan, PlanWords words)
    {
        var pieces = day.Pieces.ToDictionary(p => p.Id, StringComparer.Ordinal);
        var tasks = plan
            .Tasks.Where(t => t is { Batch: not null, Piece: not null, Step: not null })
            .ToLookup(t => t.Batch!, StringComparer.Ordinal);
        return
        [
            .. plan
                .Batches.Where(b => b.Kind == BatchKinds.Round && b.Coating is not null && tasks[b.Id].Any())
                .Select(b => Of(b, [.. tasks[b.Id]], pieces, words))
                .OrderBy(r => r.FirstS)
                .ThenBy(r => r.Id, StringComparer.Ordinal),
        ];
    }

    private static PlannedRound Of(Batch round, List<PlanTask> sprayed, Dictionary<string, Piece> pieces, PlanWords words)
    {
        var ml = sprayed.Sum(t => pieces[t.Piece!].Route[t.Step!.Value - 1].Ul) / 1000m;
        var sizes = sprayed.Select(t => pieces[t.Piece!]).Select(p => (p.WidthUm / 1000.0, p.DepthUm / 1000.0));
        var use = words.Films.TryGetValue(round.Coating!, out var film) ? RoundLaying.Saved([.. sizes], (double)ml, film) : null;
        return new PlannedRound(round.Id, sprayed.Min(t => t.StartS), words.Name(round.Coating!), sprayed.Count, ml, use);
    }
}

using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Bench.Batches;

/// <summary>The station at which a batch is put together.</summary>
internal static class ChosenStation
{
    /// <summary>The named one; else of those that can be used one in which the pieces find a place, rather a free one, the first by code.</summary>
    internal static async Task<Result<Station>> FindAsync(CommandWork work, BatchKind kind, string? code, IReadOnlyList<Piece> pieces)
    {
        var wanted = kind switch
        {
            BatchKind.SprayRound => StationKind.Booth,
            BatchKind.OvenLoad => StationKind.Oven,
            _ => StationKind.Press,
        };
        var all = await work.Context.Stations.Where(s => s.IsActive && s.Kind == wanted).OrderBy(s => s.Code).ToListAsync();
        var usable = all.FindAll(s => s.DownUntil is null || s.DownUntil <= work.Now);
        if (code is null && usable.Count > 1)
            usable = await BestFirstAsync(work, usable, pieces);
        var chosen = code is null ? usable.FirstOrDefault() : usable.Find(s => s.Code == code);
        return chosen is null
            ? new Refusal("station-missing", $"There is no usable {wanted.ToString().ToLowerInvariant()} {code}".TrimEnd() + ".", "station")
            : chosen;
    }

    private static async Task<List<Station>> BestFirstAsync(CommandWork work, List<Station> usable, IReadOnlyList<Piece> pieces)
    {
        var taken = await work
            .Context.Batches.Where(b => b.State == BatchState.Running || b.State == BatchState.Building)
            .Select(b => b.Station)
            .ToListAsync();
        var facts = await BatchFacts.LoadAsync(work.Context, usable[0], pieces, default);
        bool Suits(Station station) => StationLimits.Form(facts with { Station = station }) is null;
        bool Takes(Station station) => (facts with { Station = station }).Places() is not null;
        return [.. usable.OrderByDescending(Suits).ThenByDescending(Takes).ThenBy(s => taken.Contains(s.Id))];
    }
}

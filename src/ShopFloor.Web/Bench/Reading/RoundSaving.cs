using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Film;
using ShopFloor.Domain.Pieces;

namespace ShopFloor.Web.Bench.Reading;

/// <summary>What a spray round saves against spraying its pieces one by one: said where it is sprayed and planned. Stock counts what the can really lost.</summary>
internal static class RoundSaving
{
    /// <summary>In plain words, e.g. <c>48.2 ml laid side by side, 60 ml one by one</c>.</summary>
    internal static string Words(RoundUse use) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"{use.Millilitres:0.#} ml laid side by side, {use.AloneMillilitres:0.#} ml one by one"
        );

    /// <summary>How much less it is, e.g. <c>11.8 ml</c>.</summary>
    internal static string Amount(RoundUse use) => string.Create(CultureInfo.InvariantCulture, $"{use.SavedMillilitres:0.#} ml");

    /// <summary>The card of a round with what it saves; of another batch, and where nothing is saved, as it is.</summary>
    internal static async Task<BatchSheet> AddToAsync(
        ShopContext context,
        OpenWork work,
        Batch batch,
        BatchSheet sheet,
        CancellationToken cancel
    )
    {
        if (batch.Kind != BatchKind.SprayRound)
            return sheet;
        var steps = batch.Places.ToDictionary(p => p.Piece, p => p.Step);
        var sprayed = work.MembersOf(batch)
            .Select(p => (Piece: p, p.Items.First(i => i.Number == steps[p.Id]).Settings))
            .Where(s => s.Settings.Coating is not null)
            .ToList();
        if (sprayed.Count == 0)
            return sheet;
        var kind = sprayed[0].Settings.Coating;
        var can = batch.Can;
        var coating = await context
            .Coatings.AsNoTracking()
            .Where(c => c.Kind == kind)
            .OrderByDescending(c => context.Cans.Any(x => x.Id == can && x.Coating == c.Id))
            .ThenBy(c => c.Code)
            .FirstOrDefaultAsync(cancel);
        if (coating is null)
            return sheet;
        var sizes = sprayed
            .Select(s => work.LineOf(s.Piece).Piece.Room)
            .Select(r => ((double)r.Width.Millimetres, (double)r.Depth.Millimetres));
        return RoundLaying.Saved([.. sizes], (double)sprayed.Sum(s => s.Settings.Ml), coating.Settings.AsFilm()) is { } use
            ? sheet with
            {
                Settings = [.. sheet.Settings, new Setting("Laid side by side, it saves", $"{Amount(use)}: {Words(use)}")],
            }
            : sheet;
    }
}

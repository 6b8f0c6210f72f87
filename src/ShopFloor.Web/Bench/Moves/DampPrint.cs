using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Documents;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Bench.Moves;

/// <summary>Asks at Tape while the print has not had its time to dry: the plan reckons with the same.</summary>
internal static class DampPrint
{
    /// <summary>Code of the question.</summary>
    internal const string Code = "print-damp";

    /// <summary>The question for each piece that it is asked about.</summary>
    internal static async Task<IReadOnlyDictionary<PieceId, Refusal>> OfAsync(
        CommandWork work,
        IReadOnlyList<Piece> pieces,
        CancellationToken cancel
    )
    {
        var asked = new Dictionary<PieceId, Refusal>();
        var taped = pieces.Where(p => Unprinted.Is(p, isPrinted: false)).ToList();
        if (taped.Count == 0)
            return asked;
        var settings = await CurrentSettings.LoadAsync(work.Context, work.Now, cancel);
        var dries = TimeSpan.FromMinutes(settings.Profile.TransferDryMinutes);
        var ids = taped.Select(p => p.Order).Distinct().ToList();
        foreach (var order in await work.Context.Orders.AsNoTracking().Where(o => ids.Contains(o.Id)).ToListAsync(cancel))
        {
            var parts = await PrintedParts.LastAsync(work.Context, order, cancel);
            foreach (var piece in taped.Where(p => p.Order == order.Id))
                if ((parts.TryGetValue(piece.Code, out var at) ? at : order.PrintedAt) + dries is { } dry && dry > work.Now)
                    asked[piece.Id] = Ask(TimeZoneInfo.ConvertTime(dry, settings.Zone));
        }
        return asked;
    }

    private static Refusal Ask(DateTimeOffset dry) =>
        new(
            Code,
            $"The print is dry at {dry.ToString("t", CultureInfo.CurrentCulture)}: damp, it blots in the press. Wait, or say why it is dry already."
        );
}

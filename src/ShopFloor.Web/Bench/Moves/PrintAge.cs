using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Documents;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Bench.Moves;

/// <summary>Asks at Tape while the print has not had its time to dry, with which the plan reckons too, and when it is older than it stays good.</summary>
internal static class PrintAge
{
    /// <summary>Code of the question about a print that is not dry yet.</summary>
    internal const string Damp = "print-damp";

    /// <summary>Code of the question about a print that has lain too long.</summary>
    internal const string Stale = "print-stale";

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
        var ids = taped.Select(p => p.Order).Distinct().ToList();
        foreach (var order in await work.Context.Orders.AsNoTracking().Where(o => ids.Contains(o.Id)).ToListAsync(cancel))
        {
            var parts = await PrintedParts.LastAsync(work.Context, order, cancel);
            foreach (var piece in taped.Where(p => p.Order == order.Id))
                if ((parts.TryGetValue(piece.Code, out var at) ? at : order.PrintedAt) is { } printed)
                    if (AskOf(printed, settings, work.Now) is { } question)
                        asked[piece.Id] = question;
        }
        return asked;
    }

    private static Refusal? AskOf(DateTimeOffset printed, CurrentSettings settings, DateTimeOffset now)
    {
        var (dries, good) = (settings.Profile.TransferDryMinutes, settings.Profile.TransferGoodDays);
        if (printed.AddMinutes(dries) is var dry && dry > now)
            return new Refusal(
                Damp,
                $"The print is dry at {Local(dry, settings).ToString("t", CultureInfo.CurrentCulture)}: damp, it blots in the press. Wait, or say why it is dry already."
            );
        return printed.AddDays(good) < now
            ? new Refusal(
                Stale,
                $"The print is of {Local(printed, settings).ToString("d", CultureInfo.CurrentCulture)} and stays good for {(good == 1 ? "1 day" : $"{good} days")}: after that it may come out pale or blurred. Print it again, or say why it is still good."
            )
            : null;
    }

    private static DateTimeOffset Local(DateTimeOffset at, CurrentSettings settings) => TimeZoneInfo.ConvertTime(at, settings.Zone);
}

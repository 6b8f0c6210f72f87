using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Documents;

/// <summary>A paper that can be printed now.</summary>
/// <param name="Wish">Which.</param>
/// <param name="About">What it is for.</param>
/// <param name="Number">Its number when it was printed before, else empty.</param>
/// <param name="Times">How often it was printed.</param>
/// <param name="Last">When last, shop-local; empty when never.</param>
public sealed record PaperLine(PaperWish Wish, string About, string Number, int Times, string Last)
{
    /// <summary>Where it is looked at and printed.</summary>
    public string Address => $"/papers/{Wish.Kind.ToString().ToLowerInvariant()}/{(Wish.Subject.Length > 0 ? Wish.Subject : "today")}";
}

/// <summary>Reads what can be printed now.</summary>
public sealed class PaperList(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    public async Task<IReadOnlyList<PaperLine>> ReadAsync(CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var work = await OpenWork.LoadAsync(context, time.GetUtcNow(), null, cancel);
        var printed = await context
            .Audit.Where(a => a.What == PrintPaper.What)
            .Select(a => new
            {
                a.Subject,
                a.After,
                a.At,
            })
            .ToListAsync(cancel);
        var bySubject = printed.ToLookup(p => p.Subject, StringComparer.Ordinal);
        return [.. Offered(work).Select(o => Line(o.Wish, o.About))];

        PaperLine Line(PaperWish wish, string about)
        {
            var before = bySubject[wish.Name].OrderBy(p => p.At).ToList();
            var last =
                before.Count == 0
                    ? ""
                    : TimeZoneInfo.ConvertTime(before[^1].At, work.Settings.Zone).ToString("g", CultureInfo.CurrentCulture);
            return new PaperLine(wish, about, before.Count == 0 ? "" : before[0].After, before.Count, last);
        }
    }

    private static IEnumerable<(PaperWish Wish, string About)> Offered(OpenWork work)
    {
        yield return (new PaperWish(PaperKind.Day, ""), "");
        foreach (var batch in work.Batches.Where(b => b.Kind != BatchKind.SprayRound))
        {
            var about = $"{work.Stations[batch.Station].Name}, {StepWords.Pieces(batch.Places.Count)}";
            yield return (new PaperWish(PaperKind.Card, batch.Code), about);
            if (batch.Kind == BatchKind.PressSession)
                yield return (new PaperWish(PaperKind.Sheets, batch.Code), about);
        }
        foreach (var order in work.Orders.Values.OrderBy(o => o.Number))
        {
            var number = order.Number.ToString(CultureInfo.InvariantCulture);
            var about = StepWords.Pieces(work.Pieces.Count(p => p.Order == order.Id));
            yield return (new PaperWish(PaperKind.Labels, number), about);
            yield return (new PaperWish(PaperKind.Sheets, number), about);
        }
        foreach (var printer in work.Stations.Values.Where(s => s.Kind == StationKind.Printer))
            yield return (new PaperWish(PaperKind.Calibration, printer.Code), printer.Name);
    }
}

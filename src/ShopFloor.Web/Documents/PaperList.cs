using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Documents;

/// <summary>A paper that can be printed now.</summary>
/// <param name="Group">Where it stands in the list.</param>
/// <param name="Wish">Which.</param>
/// <param name="About">What it is for.</param>
/// <param name="Printed">Its number and how often it was printed.</param>
/// <param name="Last">When last, shop-local; empty when never.</param>
public sealed record PaperLine(PaperGroup Group, PaperWish Wish, string About, Printed Printed, string Last)
{
    /// <summary>Of sheets: how many of their transfers lie printed on other papers already.</summary>
    public int Before { get; init; }

    /// <summary>Of sheets: how many transfers they have.</summary>
    public int Transfers { get; init; }

    /// <summary>The papers on which they lie.</summary>
    public IReadOnlyList<string> On { get; init; } = [];
}

/// <summary>The parts of the list.</summary>
public enum PaperGroup
{
    /// <summary>Today and tomorrow.</summary>
    Days,

    /// <summary>Loads and sessions that are put together or run.</summary>
    Batches,

    /// <summary>Orders in work.</summary>
    Orders,

    /// <summary>Printers.</summary>
    Printers,
}

/// <summary>Reads what can be printed now.</summary>
public sealed class PaperList(IDbContextFactory<ShopContext> contexts, PlanShelf plans, TimeProvider time) : IPageView
{
    public async Task<IReadOnlyList<PaperLine>> ReadAsync(CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var work = await OpenWork.LoadAsync(context, time.GetUtcNow(), null, cancel);
        var offered = Offered(work).ToList();
        var names = offered.Select(o => o.Wish.Name).ToList();
        var printed = await context
            .Audit.Where(a => a.What == PrintPaper.What && names.Contains(a.Subject))
            .Select(a => new
            {
                a.Subject,
                a.After,
                a.At,
            })
            .ToListAsync(cancel);
        var before = await PrintedBefore.ReadAsync(context, work, cancel);
        var plan = await plans.LatestAsync(cancel);
        var bySubject = printed.ToLookup(p => p.Subject, StringComparer.Ordinal);
        return [.. offered.Select(o => Line(o.Group, o.Wish, o.About))];

        PaperLine Line(PaperGroup group, PaperWish wish, string about)
        {
            var own = bySubject[wish.Name].OrderBy(p => p.At).ToList();
            var last =
                own.Count == 0 ? "" : TimeZoneInfo.ConvertTime(own[^1].At, work.Settings.Zone).ToString("g", CultureInfo.CurrentCulture);
            var line = new PaperLine(group, wish, about, new Printed(own.Count == 0 ? "" : own[0].After, own.Count), last);
            if (wish.Kind != PaperKind.Sheets)
                return line;
            var (on, all, papers) = before.Of(work, wish, plan, line.Printed.Number);
            return line with { Before = on, Transfers = all, On = papers };
        }
    }

    private static IEnumerable<(PaperGroup Group, PaperWish Wish, string About)> Offered(OpenWork work)
    {
        var today = work.Settings.Day(work.Now);
        foreach (var day in new[] { today, today.AddDays(1) })
        {
            var about = day.ToString("dddd", CultureInfo.CurrentCulture);
            yield return (PaperGroup.Days, new PaperWish(PaperKind.Day, PaperWish.Written(day)), about);
            yield return (PaperGroup.Days, new PaperWish(PaperKind.Sheets, PaperWish.Written(day)), about);
        }
        foreach (var batch in work.Batches.Where(b => b.Kind != BatchKind.SprayRound))
        {
            var about = $"{work.Stations[batch.Station].Name}, {StepWords.Pieces(batch.Places.Count)}";
            yield return (PaperGroup.Batches, new PaperWish(PaperKind.Card, batch.Code), about);
            if (batch.Kind == BatchKind.PressSession)
                yield return (PaperGroup.Batches, new PaperWish(PaperKind.Sheets, batch.Code), about);
        }
        foreach (var order in work.Orders.Values.OrderBy(o => o.Number))
        {
            var number = order.Number.ToString(CultureInfo.InvariantCulture);
            var pieces = work.Pieces.Where(p => p.Order == order.Id).ToList();
            var about = StepWords.Pieces(pieces.Count(p => !p.IsTest), pieces.Count(p => p.IsTest));
            yield return (PaperGroup.Orders, new PaperWish(PaperKind.Labels, number), about);
            yield return (
                PaperGroup.Orders,
                new PaperWish(PaperKind.Sheets, number),
                pieces.Exists(p => work.LineOf(p).WaitsForPicture())
                    ? $"{about}, a picture is still to come"
                    : $"{about}, proof: {order.Proof.Words().ToLowerInvariant()}"
            );
        }
        foreach (var printer in work.Stations.Values.Where(s => s.Kind == StationKind.Printer))
            yield return (PaperGroup.Printers, new PaperWish(PaperKind.Calibration, printer.Code), printer.Name);
    }
}

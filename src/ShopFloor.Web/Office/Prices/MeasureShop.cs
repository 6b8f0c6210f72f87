using Microsoft.EntityFrameworkCore;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Yield;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Costs;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Prices;

/// <summary>How far back to look.</summary>
/// <param name="Days">1 to 730.</param>
public sealed record MeasureInput(int Days = 180);

/// <summary>
/// Reads from the journal how long attended steps really took and how many pieces were lost, and keeps it as a dated setting: prices and
/// plans use one measured state until the next, so a price that was shown does not move while the work goes on.
/// </summary>
public sealed class MeasureShop(CommandRunner runner) : IUseCase
{
    /// <summary>Measures.</summary>
    public Task<Result<MeasuredShop>> RunAsync(Asked asked, MeasureInput input, CancellationToken cancel = default) =>
        runner.RunAsync<MeasureInput, MeasuredShop>(
            nameof(MeasureShop),
            Allowed.Owner,
            asked,
            input,
            work => DecideAsync(work, input, cancel),
            cancel
        );

    private static async Task<Result<MeasuredShop>> DecideAsync(CommandWork work, MeasureInput input, CancellationToken cancel)
    {
        if (input.Days is < 1 or > 730)
            return new Refusal("days", "Look back from 1 to 730 days.", "days");
        var since = work.Now.AddDays(-input.Days);
        // A test piece is made alone and to fail where a piece would: it says nothing of what a piece takes and how many are lost.
        var query = work.Context.Pieces.AsNoTracking().Where(p => p.ChangedAt >= since && p.State != PieceState.Booked && !p.IsTest);
        var pieces = await query
            .IgnoreAutoIncludes()
            .Select(p => new
            {
                p.Id,
                p.Line,
                p.State,
            })
            .ToListAsync(cancel);
        var lines = await work
            .Context.Orders.Where(o => query.Any(p => p.Order == o.Id))
            .SelectMany(o => o.Lines)
            .Select(l => new
            {
                l.Id,
                l.Finish,
                l.Piece.Material,
            })
            .ToDictionaryAsync(l => l.Id, cancel);
        var journal = await WorkJournal.LoadAsync(work.Context, query, cancel);
        var shares = pieces.SelectMany(p => journal.Shares[p.Id].Select(s => (lines[p.Line].Finish, s)));
        var losses = pieces
            .Where(p => p.State is PieceState.Spoiled or PieceState.CheckedGood or PieceState.HandedOver)
            .Select(p => (lines[p.Line].Finish, lines[p.Line].Material, p.State == PieceState.Spoiled));
        var measured = MeasuredShop.From(shares, MeasuredLoss.Of(losses));
        await work.KeepAsync(SettingKeys.Measured, measured, cancel);
        return measured;
    }
}

/// <summary>Measures once a night, and when it was never done or is a week old: by day prices stay as they are.</summary>
public sealed class MeasureNightly(
    MeasureShop measure,
    SettingsView settings,
    TimeProvider time,
    IDbContextFactory<Data.ShopContext> contexts
) : IErrand
{
    private const int BeforeHour = 5;

    /// <summary>Measures when it is time.</summary>
    public async Task RunAsync(CancellationToken cancel)
    {
        var now = time.GetUtcNow();
        var hour = TimeZoneInfo.ConvertTime(now, (await settings.LoadAsync(cancel)).Zone).Hour;
        await using var context = await contexts.CreateDbContextAsync(cancel);
        // Of the measuring, not of the setting: nothing is kept when nothing changed.
        var since = now.AddDays(-7);
        var last = await context
            .Commands.Where(c => c.At > since && c.Name == nameof(MeasureShop))
            .MaxAsync(c => (DateTimeOffset?)c.At, cancel);
        if (last is null || (hour < BeforeHour && now - last > TimeSpan.FromHours(12)))
            await measure.RunAsync(Asked.BySystem(), new MeasureInput(), cancel);
    }
}

using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Stations;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Bench.Batches;

/// <summary>Puts a batch together under the trade's rules: one setting that suits all, places for all, a can that holds enough.</summary>
internal static class PutTogether
{
    /// <summary>A new batch of these pieces.</summary>
    internal static async Task<Result<Batch>> NewAsync(
        CommandWork work,
        BatchKind kind,
        Station station,
        IReadOnlyList<Piece> pieces,
        (string? Can, string? PlanName) given,
        IReadOnlyList<BatchPlace>? planned = null
    )
    {
        var (letter, series) = kind switch
        {
            BatchKind.SprayRound => ("R", "round"),
            BatchKind.OvenLoad => ("L", "load"),
            _ => ("S", "session"),
        };
        var number = await work.NextNumberAsync(series, default);
        var batch = new Batch(
            new BatchId(Guid.CreateVersion7()),
            kind,
            string.Create(CultureInfo.InvariantCulture, $"{letter}-{number}"),
            station.Id,
            new BatchSettings(),
            work.Now
        );
        var arranged = await ArrangeAsync(work, batch, station, pieces, given, planned);
        if (!arranged.IsOk)
            return Result<Batch>.Refused(arranged.Refusals);
        work.Context.Batches.Add(batch);
        return batch;
    }

    /// <summary>Gives a batch that has not begun these members, with places and one setting.</summary>
    internal static async Task<Result<Done>> ArrangeAsync(
        CommandWork work,
        Batch batch,
        Station station,
        IReadOnlyList<Piece> pieces,
        (string? Can, string? PlanName) given,
        IReadOnlyList<BatchPlace>? planned = null
    )
    {
        var there = batch.Places.Select(p => p.Piece).ToHashSet();
        var inside = pieces.TakeWhile(p => there.Contains(p.Id)).Count();
        var aside = pieces
            .Where(p => p.NextAttended is null || !p.State.IsUp())
            .Select(p => new Misfit("not-up", $"{p.Code} is {p.State.Words()}: it cannot join.", p.State.Words()))
            .ToList();
        if (aside.Count > 0)
            return Misfit.Refuse(aside, pieces.Count - inside);
        if (await BusyAsync(work, batch, pieces) is { } busy)
            return busy;
        var facts = await BatchFacts.LoadAsync(work.Context, station, pieces, default);
        var can = await CanAsync(work, batch, facts, given.Can);
        if (!can.IsOk)
            return Result<Done>.Refused(can.Refusals);
        var shake = can.Value is null ? 0 : await ShakeAsync(work.Context, can.Value);
        var settings = BatchRule.Fit(batch.Kind, facts.Members, facts.ErrorCelsius, facts.Tolerance, shake, inside);
        if (!settings.IsOk)
            return Result<Done>.Refused(settings.Refusals);
        if (await StationLimits.RefuseAsync(work, facts, settings.Value) is { } limit)
            return limit;
        var places = planned ?? Places(facts, batch);
        if (places is null)
            return NoRoom(facts, inside);
        var within = LoadHeat.Within(settings.Value, station, [.. facts.Members.Select(m => m.Step)]);
        var answer = batch.Arrange(places, within, can.Value?.Id, given.PlanName);
        if (answer.IsOk)
            work.Touch(Topic.Batch, batch.Id.Value);
        return answer;
    }

    /// <summary>Why these cannot be in a batch that is put together: some are in another already; null: they can.</summary>
    internal static async Task<Refusal?> BusyAsync(CommandWork work, Batch own, IReadOnlyList<Piece> pieces)
    {
        var building = await work.Context.Batches.Where(b => b.State == BatchState.Building && b.Id != own.Id).ToListAsync();
        // A piece that went back to an earlier step has left the batch it was in.
        var twice = building.Find(b => b.Places.Any(place => pieces.Any(p => p.Id == place.Piece && p.NextAttended?.Number == place.Step)));
        return twice is null
            ? null
            : new Refusal(
                "in-other-batch",
                $"Some of these pieces are in {twice.Code}, which is being put together. Use it, or give it up."
            );
    }

    private static async Task<Result<Can?>> CanAsync(CommandWork work, Batch batch, BatchFacts facts, string? code)
    {
        if (batch.Kind != BatchKind.SprayRound)
            return Result<Can?>.Ok(null);
        var steps = facts.Members.Select(m => m.Step).ToList();
        if (steps[0].Coating is not { } kind)
            return new Refusal("step-coating", "This step names no coating.");
        var today = (await CurrentSettings.LoadAsync(work.Context, work.Now, default)).Day(work.Now);
        var ml = steps.Sum(s => s.Ml);
        var chosen = await SprayStock.ChooseAsync(work.Context, kind, code, ml, today);
        // What was fetched and shaken stays, unless it holds too little and another holds enough.
        if (
            code is null
            && (await ReadyToBegin.CanAsync(work, batch)).Usable is { } kept
            && (kept.LeftMl >= ml || !(chosen.IsOk && chosen.Value.LeftMl >= ml))
        )
            return kept;
        return chosen.Then(can => Result<Can?>.Ok(can));
    }

    private static async Task<int> ShakeAsync(ShopContext context, Can can) =>
        (await context.Coatings.FirstAsync(c => c.Id == can.Coating)).Settings.ShakeSeconds;

    /// <summary>How many still find a place, tried from the first on.</summary>
    private static Refusal NoRoom(BatchFacts facts, int inside)
    {
        var (fit, tooMany) = (inside, facts.Pieces.Count);
        while (tooMany - fit > 1)
        {
            var half = (fit + tooMany) / 2;
            if ((facts with { Pieces = [.. facts.Pieces.Take(half)] }).Places() is null)
                tooMany = half;
            else
                fit = half;
        }
        var of = facts.Pieces.Count - inside;
        return new Refusal(
            "no-room",
            $"{fit - inside} of {of} find a place in {facts.Station.Name}: lay the other {of - fit + inside} in another batch."
        );
    }

    private static IReadOnlyList<BatchPlace>? Places(BatchFacts facts, Batch batch)
    {
        var scanned = batch.Places.Where(p => p.IsIn).Select(p => p.Piece).ToHashSet();
        return facts
            .Places()
            ?.Select(
                (p, i) =>
                    new BatchPlace(
                        facts.Pieces[i].Id,
                        facts.Members[i].Step.Number,
                        batch.Kind == BatchKind.OvenLoad ? p.Surface + 1 : 0,
                        p.X,
                        p.Y,
                        p.Turned,
                        scanned.Contains(facts.Pieces[i].Id)
                    )
            )
            .ToList();
    }
}

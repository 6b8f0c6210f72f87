using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Bench.Batches;

/// <summary>Which pieces to put together.</summary>
/// <param name="Codes">Codes of pieces and trays.</param>
/// <param name="Station">Code of the station; null: the first usable one.</param>
/// <param name="Can">Code of the can of a round; null: choose.</param>
/// <param name="PlanName">Name in the plan, e.g. <c>L1</c>; null: put together by hand.</param>
/// <param name="Seen">Which of a tray the person saw together and how many of them are meant; null: all that are up.</param>
/// <param name="IsThere">True from the page of a piece or a tray: whoever opened it has it in hand, so it counts as scanned in.</param>
public sealed record BatchWish(
    IReadOnlyList<string> Codes,
    string? Station = null,
    string? Can = null,
    string? PlanName = null,
    Target? Seen = null,
    bool IsThere = false
);

/// <summary>Puts a round, a load or a session together, as the plan proposes or by hand, with the rules and the lay-out checked.</summary>
public sealed class BuildBatch(CommandRunner runner) : IUseCase
{
    public Task<Result<Moved>> RunAsync(Asked asked, BatchWish wish, CancellationToken cancel = default) =>
        runner.RunAsync<BatchWish, Moved>(
            nameof(BuildBatch),
            Allowed.Bench,
            asked,
            wish,
            async work =>
            {
                var found = await FindAsync(work, wish);
                if (!found.IsOk)
                    return Result<Moved>.Refused(found.Refusals);
                var built = await BuildAsync(work, wish, found.Value.Pieces);
                return built.IsOk
                    ? StartBatch.Say(built.Value, "is put together", RunBatch.Words(found.Value.Aside))
                    : Result<Moved>.Refused(built.Refusals);
            },
            cancel
        );

    // One that is spoiled or put aside does not keep the others from joining; where it is the only one, the rule says why it cannot.
    private static async Task<Result<(List<Piece> Pieces, List<Piece> Aside)>> FindAsync(CommandWork work, BatchWish wish)
    {
        var (pieces, aside) = (new List<Piece>(), new List<Piece>());
        foreach (var code in wish.Codes)
        {
            var target = (wish.Seen ?? new Target(code)) with { Code = code };
            var found = await Chosen.FindAsync(
                work.Context,
                target,
                p => UpForBatch(p) && (wish.Seen is null || target.IsAbout(p)),
                "up for a batch"
            );
            if (!found.IsOk)
                return Result<(List<Piece>, List<Piece>)>.Refused(found.Refusals);
            pieces.AddRange(found.Value.Where(p => !pieces.Contains(p)));
            aside.AddRange((await Chosen.TrayAsync(work.Context, code, default)).Where(IsAside));
        }
        if (pieces.Exists(p => !IsAside(p)))
        {
            aside.AddRange(pieces.Where(IsAside));
            pieces.RemoveAll(IsAside);
        }
        return (pieces, [.. aside.Distinct().OrderBy(p => p.Code, StringComparer.Ordinal)]);
    }

    private static async Task<Result<Batch>> BuildAsync(CommandWork work, BatchWish wish, List<Piece> pieces)
    {
        if (pieces.Count == 0)
            return new Refusal("batch-empty", "Choose at least one piece.", "codes");
        if (pieces[0].NextAttended is not { } step || BatchRule.KindFor(step.Kind) is not { } kind)
            return new Refusal("not-up", $"{pieces[0].Code} is not up for spraying, the oven or the press.");
        var station = await ChosenStation.FindAsync(work, kind, wish.Station, pieces);
        if (!station.IsOk)
            return Result<Batch>.Refused(station.Refusals);
        var built = await PutTogether.NewAsync(work, kind, station.Value, pieces, (wish.Can, wish.PlanName));
        if (built.IsOk && wish.IsThere)
            foreach (var piece in pieces)
                built.Value.ScanIn(piece.Id, isIn: true);
        return built;
    }

    private static bool IsAside(Piece piece) => piece.State is PieceState.Held or PieceState.Spoiled;

    internal static bool UpForBatch(Piece piece) =>
        piece.State.IsUp() && piece.NextAttended is { State: not WorkState.Running } next && BatchRule.KindFor(next.Kind) is not null;
}

/// <summary>What is scanned at a batch that is being put together.</summary>
/// <param name="Batch">Code of the batch.</param>
/// <param name="Piece">Code of the piece or tray.</param>
/// <param name="Out">True: it leaves; false: it joins, or is noted as lying in it.</param>
public sealed record ScanAtBatch(string Batch, string Piece, bool Out = false);

/// <summary>Pieces join or leave a batch before it begins; a member that is scanned is noted as really lying in it.</summary>
public sealed class ScanIntoBatch(CommandRunner runner) : IUseCase
{
    public Task<Result<Moved>> RunAsync(Asked asked, ScanAtBatch scan, CancellationToken cancel = default) =>
        runner.RunAsync<ScanAtBatch, Moved>(nameof(ScanIntoBatch), Allowed.Bench, asked, scan, work => DecideAsync(work, scan), cancel);

    private static async Task<Result<Moved>> DecideAsync(CommandWork work, ScanAtBatch scan)
    {
        var found = await FindBatch.ByCodeAsync(work, scan.Batch);
        if (!found.IsOk)
            return Result<Moved>.Refused(found.Refusals);
        var (batch, station) = found.Value;
        var pieces = await Chosen.FindAsync(work.Context, new Target(scan.Piece), _ => true, "there");
        if (!pieces.IsOk)
            return Result<Moved>.Refused(pieces.Refusals);
        var members = (await RunBatch.MembersAsync(work, batch)).ToList();
        var (inside, outside) = (pieces.Value.Where(members.Contains).ToList(), pieces.Value.Where(p => !members.Contains(p)).ToList());
        var answer = scan.Out
            ? await LeaveAsync(work, batch, station, [.. members.Except(inside)])
            : await JoinAsync(work, batch, station, members, (inside, Joining(scan, inside, outside)));
        return answer.IsOk ? StartBatch.Say(batch, scan.Out ? "was taken from" : "now holds") : Result<Moved>.Refused(answer.Refusals);
    }

    // Of a tray that is in it already the others were left out on purpose; of another those join that are up, and where none is, the rule says why.
    private static List<Piece> Joining(ScanAtBatch scan, List<Piece> inside, List<Piece> outside)
    {
        var isTray = outside.Exists(p => p.Code != Chosen.Alike(Chosen.Clean(scan.Piece)));
        if (!isTray)
            return outside;
        var up = outside.FindAll(BuildBatch.UpForBatch);
        return inside.Count > 0 ? []
            : up.Count > 0 ? up
            : outside;
    }

    private static async Task<Result<Done>> JoinAsync(
        CommandWork work,
        Batch batch,
        Domain.Stations.Station station,
        List<Piece> members,
        (List<Piece> Inside, List<Piece> Outside) scanned
    )
    {
        // Whoever scans at a round whose can must not be used any more gets another.
        if (scanned.Outside.Count > 0 || (batch.Kind == BatchKind.SprayRound && (await ReadyToBegin.CanAsync(work, batch)).Usable is null))
        {
            var there = members.Where(m => batch.Places.Any(p => p.Piece == m.Id && p.Step == m.NextAttended?.Number));
            var joined = await RearrangeAsync(work, batch, station, [.. there, .. scanned.Outside]);
            if (!joined.IsOk)
                return joined;
        }
        foreach (var piece in scanned.Inside.Concat(scanned.Outside))
        {
            var noted = batch.ScanIn(piece.Id, isIn: true);
            if (!noted.IsOk)
                return noted;
        }
        work.Touch(Live.Topic.Batch, batch.Id.Value);
        return default(Done);
    }

    // Those who stay are not judged anew: where what has happened to them keeps them from another lay-out, the one they have still fits.
    private static async Task<Result<Done>> LeaveAsync(
        CommandWork work,
        Batch batch,
        Domain.Stations.Station station,
        IReadOnlyList<Piece> staying
    )
    {
        var again = await RearrangeAsync(work, batch, station, staying);
        if (again.IsOk)
            return again;
        var stay = staying.Select(p => p.Id).ToHashSet();
        work.Touch(Live.Topic.Batch, batch.Id.Value);
        return batch.Arrange([.. batch.Places.Where(p => stay.Contains(p.Piece))], batch.Settings);
    }

    private static Task<Result<Done>> RearrangeAsync(
        CommandWork work,
        Batch batch,
        Domain.Stations.Station station,
        IReadOnlyList<Piece> pieces
    ) =>
        batch.State != BatchState.Building
            ? Task.FromResult<Result<Done>>(new Refusal("batch-begun", $"{batch.Code} has begun: no piece joins or leaves it now."))
        : pieces.Count == 0 ? Task.FromResult(batch.Arrange([], batch.Settings))
        : PutTogether.ArrangeAsync(work, batch, station, pieces, (null, batch.PlanName));
}

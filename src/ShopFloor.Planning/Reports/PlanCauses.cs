using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Reports;

/// <summary>Finds what is different between the day a plan was made for and the day of the next plan.</summary>
internal sealed class PlanCauses(Day before, Plan plan, Day after, int shift, int movedS)
{
    private readonly IReadOnlyDictionary<(string Piece, int Step), StepTime> times = StepTimes.Of(plan);
    private readonly HashSet<(string, int)> running =
    [
        .. after.Running.Tasks.Where(t => t.Piece is not null).Select(t => (t.Piece!, t.Step ?? 0)),
        .. after.Running.Batches.SelectMany(b => b.Places.Select(p => (p.Piece, p.Step))),
    ];

    /// <summary>All of it: pieces first, then stations, people, coatings, weights.</summary>
    public List<PlanCause> Find()
    {
        var found = new List<PlanCause>();
        found.AddRange(OfPieces());
        found.AddRange(OfStations());
        found.AddRange(OfPeople());
        found.AddRange(OfCans());
        if (before.Weights != after.Weights)
            found.Add(new PlanCause(CauseKind.WeightsChanged, "", [], 0));
        return found;
    }

    // Pieces of one order to which the same has happened are told together.
    private IEnumerable<PlanCause> OfPieces()
    {
        var was = before.Pieces.ToDictionary(p => p.Id, StringComparer.Ordinal);
        var now = after.Pieces.ToDictionary(p => p.Id, StringComparer.Ordinal);
        var found = new List<(CauseKind Kind, Piece Piece, int Seconds)>();
        found.AddRange(after.Pieces.Where(p => !was.ContainsKey(p.Id)).Select(p => (CauseKind.PiecesNew, p, 0)));
        found.AddRange(before.Pieces.Where(p => !now.ContainsKey(p.Id)).Select(p => (CauseKind.PiecesGone, p, 0)));
        foreach (var piece in after.Pieces.Where(p => was.ContainsKey(p.Id)))
            found.AddRange(OfPiece(was[piece.Id], piece).Select(c => (c.Kind, piece, c.Seconds)));
        return found
            .GroupBy(f => (f.Kind, f.Piece.Order))
            .OrderBy(g => g.Key.Kind)
            .ThenBy(g => g.Key.Order, StringComparer.Ordinal)
            .Select(g => new PlanCause(
                g.Key.Kind,
                g.Key.Order,
                [.. g.Select(f => f.Piece.Id).Order(StringComparer.Ordinal)],
                g.Max(f => f.Seconds)
            ));
    }

    private IEnumerable<(CauseKind Kind, int Seconds)> OfPiece(Piece was, Piece now)
    {
        if (now.Done < was.Done)
            yield return (CauseKind.BegunAgain, 0);
        else if (Drift(was, now) is var (kind, seconds))
            yield return (kind, seconds);
        // A promise is given to the second but kept in whole ones; a minute is nobody's change.
        if (Math.Abs(now.PromiseS - (was.PromiseS - shift)) > 60 || now.Weight != was.Weight)
            yield return (CauseKind.PromiseChanged, 0);
        if (!Open(was.Route, now.Done).SequenceEqual(Open(now.Route, now.Done)))
            yield return (CauseKind.RouteChanged, 0);
        if (!Same(was.Pins.Where(p => p.Step > now.Done).Select(Moved), now.Pins))
            yield return (CauseKind.PinChanged, 0);
        if (Transfer(was, now) is { } transfer)
            yield return (transfer, 0);
    }

    private (CauseKind, int)? Drift(Piece was, Piece now)
    {
        if (now.Done > was.Done && times.TryGetValue((now.Id, now.Done), out var planned) && now.LastEndS is { } ended)
        {
            var late = ended - (planned.EndS - shift);
            if (Math.Abs(late) > movedS && now.Route[now.Done - 1].Kind != StepKind.Rest)
                return (late > 0 ? CauseKind.EndedLate : CauseKind.EndedSoon, Math.Abs(late));
        }
        var next = now.Done + 1;
        return
            next <= now.Route.Count
            && now.Route[next - 1].Kind != StepKind.Rest
            && !running.Contains((now.Id, next))
            && times.TryGetValue((now.Id, next), out var due)
            && shift - due.StartS > movedS
            ? (CauseKind.NotBegun, shift - due.StartS)
            : null;
    }

    private CauseKind? Transfer(Piece was, Piece now)
    {
        var tape = now.Route.ToList().FindIndex(s => s.Kind == StepKind.Tape);
        if (tape < now.Done || tape >= was.Route.Count || was.Route[tape].Kind != StepKind.Tape)
            return null;
        // What lies ready is ready, however long.
        var later = Math.Max(0, now.Route[tape].ReadyS) - Math.Max(0, was.Route[tape].ReadyS - shift);
        return later < -movedS ? CauseKind.TransferReady
            : later > movedS ? CauseKind.TransferWaits
            : null;
    }

    private Pin Moved(Pin pin) => pin with { NotBeforeS = pin.NotBeforeS is { } n ? Math.Max(0, n - shift) : null, AtS = pin.AtS - shift };

    // When the transfer is ready is a matter of its own, and how much of the wait that runs a plan may use grows with time (WaitReserve).
    private static IEnumerable<Step> Open(IEnumerable<Step> route, int done) =>
        route.Select(
            (s, i) =>
                s with
                {
                    ReadyS = 0,
                    MaxS = i == done && s.Kind == StepKind.Rest ? null : s.MaxS,
                    MaxWaitS = i == done - 1 ? null : s.MaxWaitS,
                }
        );

    private static bool Same(IEnumerable<Pin> was, IEnumerable<Pin> now)
    {
        // Instants come through two roundings.
        static bool Near(int? a, int? b) => a is null == b is null && Math.Abs((a ?? 0) - (b ?? 0)) <= 2;
        var (left, right) = (was.OrderBy(p => p.Step).ToList(), now.OrderBy(p => p.Step).ToList());
        return left.Count == right.Count
            && left.Zip(right)
                .All(p =>
                    p.First.Step == p.Second.Step
                    && p.First.Station == p.Second.Station
                    && p.First.With == p.Second.With
                    && Near(p.First.AtS, p.Second.AtS)
                    && Near(p.First.NotBeforeS, p.Second.NotBeforeS)
                );
    }

    private IEnumerable<PlanCause> OfStations()
    {
        var was = before.Stations.ToDictionary(s => s.Id, StringComparer.Ordinal);
        foreach (var station in after.Stations)
            if (!was.Remove(station.Id, out var old))
                yield return new PlanCause(CauseKind.StationBack, station.Id, [], 0);
            else if (Clear(old.Down.Select(Span)) is var cleared && Clear(station.Down.Select(d => (d.FromS, d.ToS))) is var now)
            {
                var more = now.Sum(Length) - cleared.Sum(Length);
                if (!cleared.SequenceEqual(now) && Math.Abs(more) > 1)
                    yield return new PlanCause(more > 0 ? CauseKind.StationDown : CauseKind.StationBack, station.Id, [], Math.Abs(more));
                if (!StationFacts.AreSame(old, station))
                    yield return new PlanCause(CauseKind.StationChanged, station.Id, [], 0);
            }
        foreach (var gone in was.Keys.Order(StringComparer.Ordinal))
            yield return new PlanCause(CauseKind.StationDown, gone, [], 0);
    }

    private IEnumerable<PlanCause> OfPeople()
    {
        var was = before.People.ToDictionary(p => p.Id, StringComparer.Ordinal);
        foreach (var person in after.People)
            if (!was.Remove(person.Id, out var old) || !SameWork(old, person))
                yield return new PlanCause(CauseKind.ShiftsChanged, person.Id, [], 0);
        foreach (var gone in was.Keys.Order(StringComparer.Ordinal))
            yield return new PlanCause(CauseKind.ShiftsChanged, gone, [], 0);
    }

    private bool SameWork(Person was, Person now) =>
        was.Can.Order().SequenceEqual(now.Can.Order())
        && Clear(was.Shifts.Select(s => (s.FromS - shift, s.ToS - shift))).SequenceEqual(Clear(now.Shifts.Select(s => (s.FromS, s.ToS))))
        && Clear(was.Shifts.Select(s => (s.FromS - shift, s.NormalToS - shift)))
            .SequenceEqual(Clear(now.Shifts.Select(s => (s.FromS, s.NormalToS))));

    private IEnumerable<PlanCause> OfCans()
    {
        foreach (var coating in after.Coatings)
        {
            var was =
                before.Coatings.FirstOrDefault(c => c.Id == coating.Id)?.Cans.Select(c => c.Id).ToHashSet(StringComparer.Ordinal) ?? [];
            var now = coating.Cans.Select(c => c.Id).ToHashSet(StringComparer.Ordinal);
            if (now.Except(was).Any())
                yield return new PlanCause(CauseKind.CanNew, coating.Id, [], 0);
            if (was.Except(now).Any())
                yield return new PlanCause(CauseKind.CanGone, coating.Id, [], 0);
        }
    }

    private (int, int) Span(Span span) => (span.FromS - shift, span.ToS - shift);

    private static int Length((int From, int To) span) => span.To - span.From;

    // Only what both days cover can be compared; the past is nobody's any more.
    private List<(int From, int To)> Clear(IEnumerable<(int From, int To)> spans)
    {
        var until = Math.Min(before.HorizonS - shift, after.HorizonS);
        return [.. spans.Select(s => (Math.Max(0, s.From), Math.Min(until, s.To))).Where(s => s.Item1 < s.Item2)];
    }
}

using ShopFloor.Planning.Exchange;
using ShopFloor.Planning.Layout;

namespace ShopFloor.Planning.DayPlans;

/// <summary>When pieces that are being quoted would be finished.</summary>
/// <param name="EndS">End of the last step of the last piece, in seconds of the plan; null when there is no time for them.</param>
/// <param name="Text">Why there is none; else empty.</param>
public sealed record Promise(int? EndS, string Text);

/// <summary>A piece that a rush order would make late, or later.</summary>
/// <param name="Piece">The piece.</param>
/// <param name="Order">Its order.</param>
/// <param name="PromiseS">When it was promised.</param>
/// <param name="EndS">When it would be finished; null: not at all within the plan.</param>
/// <param name="LateS">Seconds past the promise; 0 when it would not be finished at all.</param>
public sealed record Pushed(string Piece, string Order, int PromiseS, int? EndS, int LateS);

/// <summary>What a rush order would get, and who would pay for it.</summary>
/// <param name="EndS">When its last piece would be finished; null when there is no time.</param>
/// <param name="Pushed">Pieces made late, most urgent promise first.</param>
public sealed record RushPromise(int? EndS, IReadOnlyList<Pushed> Pushed);

/// <summary>Answers when more pieces would be finished, given a plan that stands. What runs and what is near stays where it is; no piece is
/// finished after its promise, or later than the plan has it. Pure; may be asked from several threads at once.</summary>
public sealed class Promises
{
    private readonly Day day;
    private readonly Plan plan;
    private readonly int taken;
    private readonly FitAnswers[] fits;

    private Promises(Day day, Plan plan, int taken, FitAnswers[] fits) =>
        (this.day, this.plan, this.taken, this.fits) = (day, plan, taken, fits);

    /// <summary>Gets ready to be asked.</summary>
    /// <param name="day">The day that was planned.</param>
    /// <param name="plan">Its plan; must break no rule.</param>
    public static Promises Prepare(Day day, Plan plan) => new(day, plan, 0, [.. day.Stations.Select(_ => new FitAnswers())]);

    /// <summary>Pieces that the plan leaves out already.</summary>
    public IEnumerable<string> LeftOut => plan.LeftOut.Select(l => l.Piece);

    /// <summary>For each coating of which the cans hold too little for these pieces and all others, what to say of it: then there is no time for
    /// them whatever else is done. Empty: there is enough, whenever they are made.</summary>
    /// <param name="pieces">As for <see cref="Ask"/>.</param>
    public IReadOnlyDictionary<string, string> Uncoated(IReadOnlyList<Piece> pieces)
    {
        var (without, missing) = (LeftOut.ToHashSet(StringComparer.Ordinal), new Dictionary<string, string>(StringComparer.Ordinal));
        var all = day.Pieces.Where(p => !without.Contains(p.Id)).Concat(pieces).SelectMany(p => p.Route.Skip(p.Done)).ToList();
        foreach (var coating in day.Coatings)
        {
            var needed = all.Where(s => s.Kind == StepKind.Spray && s.Coating == coating.Id).Sum(s => (long)s.Ul);
            var lacking = needed - coating.Cans.Sum(c => (long)c.LeftUl);
            if (lacking > 0)
                missing[coating.Id] = Shortage.TooLittle(coating.Id, lacking);
        }
        return missing;
    }

    /// <summary>Answers for each alternative on its own, as if the others did not exist.</summary>
    /// <param name="alternatives">For each the pieces, with those that the yield asks for on top; ids need not differ between
    /// alternatives. <see cref="Piece.EarliestS"/> says from when on they may be worked on.</param>
    public IReadOnlyList<Promise> Ask(IReadOnlyList<IReadOnlyList<Piece>> alternatives)
    {
        var (room, asked) = Room(alternatives);
        return [.. asked.Select(pieces => Answer(room, pieces))];
    }

    /// <summary>What can be promised besides once these pieces are agreed: they keep the time that they were answered for. Null when there is
    /// no time for them.</summary>
    /// <param name="pieces">As for <see cref="Ask"/>, with what they were promised for.</param>
    public Promises? Taking(IReadOnlyList<Piece> pieces) =>
        With(pieces) is var (with, made) ? new Promises(with, made, taken + 1, fits) : null;

    /// <summary>The plan with the pieces in it, as they were answered for; for looking at, and for checking.</summary>
    internal (Day Day, Plan Plan)? With(IReadOnlyList<Piece> pieces)
    {
        var (room, asked) = Room([pieces]);
        var (end, behind) = Soonest(room, asked[0]);
        if (end >= Line.Never)
            return null;
        if (behind < 0)
            Insert(room, asked[0]);
        else
            new Continuation(room, plan, NearS).Place(Groups(room, asked[0]), asked[0], behind);
        var left = new LeftOut?[room.Shop.Pieces.Length];
        foreach (var gone in plan.LeftOut)
            left[Array.FindIndex(room.Shop.Pieces, p => p.Id == gone.Piece)] = gone;
        var note = new SearchNote("insertion", 0, 1, 0, 0, false);
        var sha = Fingerprint.Sha256(DayWriter.Write(room.Shop.Day));
        return (room.Shop.Day, PlanMaker.Make(room.Shop, room.Maker, room.Decoder, left, sha, PartBounds.None, note));
    }

    /// <summary>Answers as if the pieces came before everything that is not near, and says whom that would make late.</summary>
    /// <param name="pieces">As for <see cref="Ask"/>.</param>
    public RushPromise Rush(IReadOnlyList<Piece> pieces)
    {
        var (room, asked) = Room([pieces]);
        var calm = Answer(room, asked[0]);
        if (calm.EndS is null && calm.Text != NoTime)
            return new RushPromise(null, []);
        var next = new Continuation(room, plan, NearS);
        var end = next.Place(Groups(room, asked[0]), asked[0], 0);
        if (calm.EndS <= end)
            return new RushPromise(calm.EndS, []);
        return end >= Line.Never ? new RushPromise(null, []) : new RushPromise(end, next.Pushed());
    }

    /// <summary>Steps that start sooner than this stay where they are, in seconds of the plan.</summary>
    private int NearS => day.Published?.NearS ?? 7_200;

    private static List<Group> Groups((Shop Shop, GroupMaker Maker, Decoder Decoder) room, List<int> pieces)
    {
        bool[] others = new bool[room.Shop.Pieces.Length];
        Array.Fill(others, true);
        foreach (var p in pieces)
            others[p] = false;
        return new FirstPlan(room.Shop, room.Maker, new Units(room.Shop), others).Make();
    }

    private Promise Answer((Shop Shop, GroupMaker Maker, Decoder Decoder) room, List<int> pieces)
    {
        if (pieces.Count == 0)
            return new Promise(null, "There are no pieces to promise.");
        var feasible = new Feasibility(room.Shop, room.Maker);
        foreach (var p in pieces)
            if (feasible.Reason(p) is var (_, text))
                return new Promise(null, text);
        var end = Soonest(room, pieces).End;
        return end < Line.Never ? new Promise(end, "") : new Promise(null, NoTime);
    }

    private int Insert((Shop Shop, GroupMaker Maker, Decoder Decoder) room, List<int> pieces)
    {
        room.Decoder.Load(plan);
        return new Insertion(room.Shop, room.Maker, room.Decoder).Place(pieces) ? pieces.Max(room.Decoder.PieceEnd) : Line.Never;
    }

    /// <summary>Into the gaps (behind: -1), or behind so many others when everybody else still keeps what was promised.</summary>
    private (int End, int Behind) Soonest((Shop Shop, GroupMaker Maker, Decoder Decoder) room, List<int> pieces)
    {
        var next = new Continuation(room, plan, NearS);
        var groups = Groups(room, pieces);
        var (low, high, best) = (0, next.Places, (End: Line.Never, Behind: -1));
        for (var tries = 0; tries < MostTries && low <= high; tries++)
        {
            // First right behind what is near; then halfway to the end.
            var behind = tries == 0 ? 0 : (low + high) / 2;
            var end = next.Place(groups, pieces, behind);
            if (end < Line.Never && next.Pushed().Count == 0)
            {
                best = end < best.End ? (end, behind) : best;
                high = behind - 1;
            }
            else
                low = behind + 1;
        }
        var inGaps = Insert(room, pieces);
        return inGaps <= best.End ? (inGaps, -1) : best;
    }

    private const int MostTries = 3;
    private const string NoTime = "No time within the plan suits its longest waits, the people and the stations.";

    private ((Shop Shop, GroupMaker Maker, Decoder Decoder) Room, List<List<int>> Asked) Room(
        IReadOnlyList<IReadOnlyList<Piece>> alternatives
    )
    {
        // No id in a file begins with a tilde, so nothing of the plan is meant; and they sort behind everything, and behind those taken before.
        var named = alternatives.SelectMany((pieces, a) => pieces.Select((p, i) => (p, a, i))).ToList();
        var more = named.Select(x =>
            x.p with
            {
                Id = FormattableString.Invariant($"~{taken:00000}-{x.a:000}-{x.i:00000}"),
                After = [],
                Pins = [],
                Done = 0,
                LastEndS = null,
            }
        );
        var shop = ShopBuilder.Build(day with { Pieces = [.. day.Pieces, .. more] });
        var maker = new GroupMaker(shop, LayoutEffort, fits);
        var decoder = new Decoder(shop, maker);
        var (asked, at) = (new List<List<int>>(), day.Pieces.Count);
        foreach (var pieces in alternatives)
        {
            asked.Add([.. Enumerable.Range(at, pieces.Count)]);
            at += pieces.Count;
        }
        return ((shop, maker, decoder), asked);
    }

    private const long LayoutEffort = 400;
}

/// <summary>When each piece of a plan is finished.</summary>
public static class PlanEnds
{
    /// <summary>Ends by piece, in seconds of the plan; tasks of batches count for all their members.</summary>
    public static Dictionary<string, int> Of(Plan plan)
    {
        var members = plan.Batches.ToDictionary(b => b.Id, b => b.Places, StringComparer.Ordinal);
        var ends = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var task in plan.Tasks)
            if (task.Piece is { } piece)
                Later(piece, task.EndS!.Value);
            else if (task.Batch is { } batch)
                foreach (var place in members[batch])
                    Later(place.Piece, task.EndS!.Value);
        return ends;

        void Later(string piece, int end) => ends[piece] = Math.Max(end, ends.GetValueOrDefault(piece, int.MinValue));
    }
}

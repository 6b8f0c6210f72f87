using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Shared.Drawing;

namespace ShopFloor.Web.Bench.Reading;

/// <summary>A shelf or platen with what lies on it.</summary>
public sealed record SurfaceSheet(string Title, double WidthMm, double DepthMm, IReadOnlyList<LayoutPlace> Places);

/// <summary>A member of a batch.</summary>
/// <param name="Code">The piece.</param>
/// <param name="Tray">Its tray.</param>
/// <param name="IsIn">Scanned in.</param>
/// <param name="IsHeld">Put aside meanwhile.</param>
/// <param name="Shelf">Shelf from 1; 0: none.</param>
/// <param name="IsRunning">Its step still runs.</param>
public sealed record MemberLine(string Code, string? Tray, bool IsIn, bool IsHeld, int Shelf, bool IsRunning = false);

/// <summary>What a customer said about pieces.</summary>
/// <param name="Order">The order's number.</param>
/// <param name="Pieces">Codes of its pieces in the batch.</param>
/// <param name="Text">The words.</param>
public sealed record CustomerWords(int Order, IReadOnlyList<string> Pieces, string Text);

/// <summary>What comes after a batch for some of its pieces.</summary>
/// <param name="Word">The next step.</param>
/// <param name="Timer">The wait before it; null: none.</param>
/// <param name="Codes">Codes of the pieces, a tray's by its own.</param>
/// <param name="Count">How many pieces.</param>
public sealed record AfterLine(string Word, StepTimer? Timer, IReadOnlyList<string> Codes, int Count);

/// <summary>A round, load or session that is being put together or runs.</summary>
public sealed record BatchSheet
{
    public string Code { get; init; } = "";
    public BatchKind Kind { get; init; }
    public BatchState State { get; init; }
    public string StationName { get; init; } = "";
    public string StationCode { get; init; } = "";

    /// <summary>What the plan calls it while it is being put together; null: the plan has none such.</summary>
    public string? PlanLetter { get; init; }

    /// <summary>Until when its station cannot be used, UTC; null: it can.</summary>
    public DateTimeOffset? DownUntil { get; init; }
    public string StepWord { get; init; } = "";
    public IReadOnlyList<Setting> Settings { get; init; } = [];
    public IReadOnlyList<string> Cautions { get; init; } = [];
    public IReadOnlyList<SurfaceSheet> Surfaces { get; init; } = [];
    public IReadOnlyList<MemberLine> Members { get; init; } = [];
    public LayUp? LayUp { get; init; }
    public StepTimer? Timer { get; init; }
    public string? Can { get; init; }

    /// <summary>The true temperature that a load wants, °C; null: not an oven's.</summary>
    public decimal? LoadCelsius { get; init; }

    /// <summary>Before it begins: when its station is warm for it if it is switched on now, UTC; null: it is warm, or nobody can say.</summary>
    public DateTimeOffset? WarmAt { get; init; }

    /// <summary>True when nothing was ever in its station, so that it is taken to be as cold as the room.</summary>
    public bool IsFirstUse { get; init; }

    /// <summary>How fast its station heats, °C a minute; null: it does not.</summary>
    public decimal? HeatingPerMinute { get; init; }

    /// <summary>What customers said about pieces in it, in their own words, with whose pieces they are.</summary>
    public IReadOnlyList<CustomerWords> Says { get; init; } = [];

    /// <summary>Once it is over: what comes next for its pieces.</summary>
    public IReadOnlyList<AfterLine> After { get; init; } = [];

    /// <summary>Members that were scanned in.</summary>
    public int ScannedIn => Members.Count(m => m.IsIn);

    internal static BatchSheet Of(OpenWork work, Batch batch, string? can)
    {
        var members = work.MembersOf(batch).ToDictionary(p => p.Id);
        var station = work.Stations[batch.Station];
        var first = members.Values.FirstOrDefault();
        var step = first?.Items.FirstOrDefault(i => i.Number == batch.Places.First(p => p.Piece == first.Id).Step);
        return new BatchSheet
        {
            Code = batch.Code,
            Kind = batch.Kind,
            State = batch.State,
            StationName = station.Name,
            StationCode = station.Code,
            DownUntil = station.DownUntil > work.Now ? station.DownUntil : null,
            StepWord = step is null ? StepWords.Of(batch.Kind) : StepWords.Of(step.Settings),
            Settings = [.. SettingsOf(work, batch, members.Values, can)],
            Cautions = CautionsOf(work, batch, members),
            Surfaces = SurfacesOf(work, batch, station, members),
            Members =
            [
                .. batch
                    .Places.Where(p => members.ContainsKey(p.Piece))
                    .Select(p => (Place: p, Piece: members[p.Piece]))
                    .Select(m => new MemberLine(
                        m.Piece.Code,
                        m.Piece.Tray,
                        m.Place.IsIn,
                        m.Piece.State == PieceState.Held,
                        m.Place.Shelf,
                        !m.Piece.State.IsEnd() && m.Piece.Items.Any(i => i.Batch == batch.Id && i.State == WorkState.Running)
                    )),
            ],
            LayUp =
                first is null || batch.Kind != BatchKind.PressSession
                    ? null
                    : StepCard.Of(first, work.LineOf(first), work.Settings.Material(""), (null, station), work.Settings.Profile)?.LayUp,
            Timer = TimerOf(batch, step?.Settings is { } s ? StepWords.Of(s) : StepWords.Of(batch.Kind)),
            Can = can,
            LoadCelsius = batch.Kind == BatchKind.OvenLoad ? batch.Settings.Celsius : null,
            HeatingPerMinute = WarmUp.RateOf(station.Settings),
            After = batch.State is BatchState.Done or BatchState.Stopped ? AfterOf(members.Values) : [],
            Says =
            [
                .. members
                    .Values.Select(p => (Piece: p, Line: work.LineOf(p)))
                    .Where(m => m.Line.Piece.Note.Length > 0)
                    .GroupBy(m => m.Line.Id)
                    .Select(g => new CustomerWords(
                        work.Orders[g.First().Piece.Order].Number,
                        [.. g.Select(m => m.Piece.Code).Order(StringComparer.Ordinal)],
                        g.First().Line.Piece.Note
                    ))
                    .OrderBy(s => s.Order),
            ],
        };
    }

    private static IReadOnlyList<AfterLine> AfterOf(IEnumerable<Piece> members) =>
        [
            .. members
                .Where(p => p.State.IsUp() && p.NextAttended is not null)
                .GroupBy(p => (Word: StepWords.Of(p.NextAttended!.Settings), Timer: StepCard.TimerOf(p, p.NextAttended!)))
                .Select(g => new AfterLine(
                    g.Key.Word,
                    g.Key.Timer,
                    [.. g.Select(p => p.Tray ?? p.Code).Distinct().Order(StringComparer.Ordinal)],
                    g.Count()
                )),
        ];

    /// <summary>The time that runs for a batch.</summary>
    public static StepTimer? TimerOf(Batch batch, string word) =>
        batch is { State: BatchState.Running, CountsFrom: { } began }
            ? new StepTimer(word, began, batch.Kind == BatchKind.SprayRound ? null : batch.MayEndAt, batch.MustEndAt)
            : null;

    private static IReadOnlyList<string> CautionsOf(OpenWork work, Batch batch, Dictionary<Domain.PieceId, Piece> members) =>
        [
            .. batch
                .Places.Where(p => members.ContainsKey(p.Piece))
                .Select(p => (Piece: members[p.Piece], p.Step))
                .SelectMany(m =>
                    Cautioned.For(
                        m.Piece.Items.First(i => i.Number == m.Step).Settings,
                        work.Settings.Material(work.LineOf(m.Piece).Piece.Material),
                        work.Settings.Profile
                    )
                )
                .Distinct(StringComparer.Ordinal),
            .. Vapour(work, batch, members),
        ];

    // What runs was judged when it began.
    private static IEnumerable<string> Vapour(OpenWork work, Batch batch, Dictionary<Domain.PieceId, Piece> members)
    {
        var pieces = batch.Places.Where(p => members.ContainsKey(p.Piece)).Select(p => (members[p.Piece], p.Step)).ToList();
        if (batch.State == BatchState.Building)
            if (LoadVapour.Caution(pieces, work.Stations[batch.Station], work.Now, work.Settings.Zone) is { } caution)
                yield return caution;
    }

    private static IEnumerable<Setting> SettingsOf(OpenWork work, Batch batch, IEnumerable<Piece> members, string? can)
    {
        var settings = batch.Settings;
        if (batch.Kind == BatchKind.SprayRound)
        {
            var ml = members.Sum(p => p.Items.First(i => i.Number == batch.Places.First(x => x.Piece == p.Id).Step).Settings.Ml);
            yield return new Setting("Can", can ?? "?");
            yield return new Setting("Shake", StepWords.Span(settings.ShakeSeconds));
            yield return new Setting("Amount", FormattableString.Invariant($"{ml:0.#} ml in all"));
            yield break;
        }
        if (settings.DialCelsius is { } dial)
            yield return new Setting("Set the dial to", FormattableString.Invariant($"{dial:0.#} °C"));
        if (settings.Celsius is { } celsius && celsius != settings.DialCelsius)
            yield return new Setting("True temperature", FormattableString.Invariant($"{celsius:0.#} °C"));
        yield return new Setting("Time", StepWords.Window(settings.MinSeconds, settings.MaxSeconds));
        if (settings.Pressure is { Length: > 0 } pressure)
            yield return new Setting("Pressure", pressure);
        if (batch.Kind == BatchKind.PressSession && PeelOf(batch, members) is { Length: > 0 } peel)
            yield return new Setting("Peel", peel);
        if (batch.Measured is { Length: > 0 } read)
            yield return new Setting("Read off", read);
    }

    // One session may hold both kinds: then it says which is which. One without pieces says nothing.
    private static string PeelOf(Batch batch, IEnumerable<Piece> members)
    {
        var kinds = members
            .GroupBy(p => RecipeRules.PeelOf(p.Items.First(i => i.Number == batch.Places.First(x => x.Piece == p.Id).Step).Settings))
            .OrderByDescending(g => g.Key == RecipeRules.UsualPeel)
            .ToList();
        return kinds.Count == 1
            ? kinds[0].Key
            : string.Join("; ", kinds.Select(g => $"{g.Key}: {string.Join(", ", g.Select(p => p.Tray ?? p.Code).Distinct())}"));
    }

    internal static IReadOnlyList<SurfaceSheet> SurfacesOf(
        OpenWork work,
        Batch batch,
        Station station,
        IReadOnlyDictionary<Domain.PieceId, Piece> members
    ) =>
        station.Settings switch
        {
            OvenSettings oven =>
            [
                .. oven.Shelves.Select(
                    (s, i) => Surface(work, batch, members, i + 1, (s.Width, s.Depth), $"{station.Name}, shelf {i + 1}")
                ),
            ],
            PressSettings { Wraps: false } press => [Surface(work, batch, members, 0, (press.Width, press.Depth), station.Name)],
            _ => [],
        };

    private static SurfaceSheet Surface(
        OpenWork work,
        Batch batch,
        IReadOnlyDictionary<Domain.PieceId, Piece> members,
        int shelf,
        (Domain.Quantities.Length Width, Domain.Quantities.Length Depth) size,
        string name
    )
    {
        var depth = (double)size.Depth.Millimetres;
        var places = batch
            .Places.Where(p => p.Shelf == shelf && members.ContainsKey(p.Piece))
            .Select(p => Place(work, members[p.Piece], p, depth))
            .ToList();
        return new SurfaceSheet($"{name}: {StepWords.Pieces(places.Count)}", (double)size.Width.Millimetres, depth, places);
    }

    /// <summary>How a piece is drawn where it lies: the same at Bench, on the Wall and in the plan.</summary>
    internal static Outline OutlineOf(PieceDescription it) =>
        it.Form == Form.Cylinder || it.Face is FaceShape.Disc or FaceShape.Ring or FaceShape.Ellipse ? Outline.Ellipse : Outline.Rectangle;

    // The batch counts from the front edge, the drawing from the back as seen by who loads it.
    private static LayoutPlace Place(OpenWork work, Piece piece, BatchPlace place, double depth)
    {
        var it = work.LineOf(piece).Piece;
        var (w, d) = ((double)it.Room.Width.Millimetres, (double)it.Room.Depth.Millimetres);
        if (place.Turned)
            (w, d) = (d, w);
        return new LayoutPlace(
            piece.Code,
            place.XMicrometres / 1000.0,
            depth - place.YMicrometres / 1000.0 - d,
            w,
            d,
            OutlineOf(it),
            place.Turned
        );
    }
}

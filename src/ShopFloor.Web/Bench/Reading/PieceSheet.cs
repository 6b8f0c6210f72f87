using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.TestPieces;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Shared.Look;

namespace ShopFloor.Web.Bench.Reading;

/// <summary>One step in the list of a piece's way.</summary>
public sealed record StepLine(int Number, string Word, StatusKind Status, string State);

/// <summary>A piece and the text that it got at Tape.</summary>
public sealed record NamedPiece(string Code, string Text);

/// <summary>A piece, or the pieces of a tray that are at the same step.</summary>
public sealed record PieceSheet
{
    /// <summary>What a move is about: the piece's or the tray's code.</summary>
    public string Code { get; init; } = "";
    public bool IsTray { get; init; }
    public int Count { get; init; } = 1;

    /// <summary>As many of a tray as can be wiped and sprayed within the longest wait between the two; null: no such limit.</summary>
    public int? MostInTime { get; init; }
    public int Order { get; init; }

    /// <summary>E.g. <c>Aluminium plate 100 × 60 × 1 mm, white ground</c>.</summary>
    public string What { get; init; } = "";

    /// <summary>What the customer said about the piece, in their own words; may be empty.</summary>
    public string Says { get; init; } = "";

    /// <summary>What is to be done about an old coat on it; null: nothing.</summary>
    public string? OldCoat { get; init; }

    /// <summary>What the customer was asked about the order and has not answered.</summary>
    public IReadOnlyList<OrderQuestion> Unanswered { get; init; } = [];
    public PieceState State { get; init; }
    public string? Reason { get; init; }
    public int Reworks { get; init; }
    public DateTimeOffset PromisedAt { get; init; }
    public StepCard? Step { get; init; }
    public IReadOnlyList<StepLine> Way { get; init; } = [];

    /// <summary>Texts that are still without a piece, at Tape.</summary>
    public IReadOnlyList<string> OpenPrints { get; init; } = [];

    /// <summary>True at Tape when the order's sheet was never printed here.</summary>
    public bool IsUnprinted { get; init; }

    /// <summary>The print it got at Tape; null: none yet, or one of its own on each.</summary>
    public string? Print { get; init; }

    /// <summary>What stands on which of several whose texts differ; empty: they are all alike.</summary>
    public IReadOnlyList<NamedPiece> Names { get; init; } = [];
    public IReadOnlyList<string> Codes { get; init; } = [];

    /// <summary>True for the customer's own piece.</summary>
    public bool IsOwn { get; init; }

    /// <summary>Its number within its line; 0 for a tray and for a test piece.</summary>
    public int Number { get; init; }

    /// <summary>How many pieces its line has.</summary>
    public int OfMany { get; init; }

    /// <summary>The text that is its own from the start: of an own piece, or the one that all of the line have; null: none, or any of those left.</summary>
    public string? OwnText { get; init; }

    /// <summary>True for a test piece.</summary>
    public bool IsTest { get; init; }

    /// <summary>Of a piece of the workshop's own stock that was spoiled or is back on the shelf: how many its line has too few without it.</summary>
    public int Missing { get; init; }

    /// <summary>True when its line has too few without it.</summary>
    public bool IsMissed => Missing > 0;

    /// <summary>True when it may go back as it is: to the customer, or a blank on which nothing was begun to the shelf.</summary>
    public bool MayGoBack { get; init; }

    /// <summary>True when the last move of the piece may be taken back here; never of a tray.</summary>
    public bool MayUndo { get; init; }

    /// <summary>What is known of tests of its material; null: nothing to say.</summary>
    public TestSheet? Test { get; init; }

    /// <summary>What hands usually take for the next step; null: not measured, or not by hand.</summary>
    public ShopFloor.Domain.Quantities.Explained<ShopFloor.Domain.Yield.StepMinutes>? Usual { get; init; }

    public StatusKind Status => StatusOf(State);

    /// <summary>The state by which a move knows those of a tray that are shown together; null for a piece.</summary>
    public PieceState? Group => IsTray ? State : null;

    /// <summary>Whether their step runs; null for a piece.</summary>
    public bool? Runs => IsTray ? Step is { IsRunning: true } : null;

    /// <summary>A sheet for pieces that are alike and at the same step.</summary>
    internal static PieceSheet Of(OpenWork work, IReadOnlyList<Piece> alike, string code)
    {
        var (first, line, names) = (alike[0], work.LineOf(alike[0]), NamesOf(alike));
        var batch = first.NextAttended is { State: WorkState.Running, Batch: { } id } ? work.Batches.FirstOrDefault(b => b.Id == id) : null;
        return new PieceSheet
        {
            Code = code,
            IsTray = first.Tray is not null && code == first.Tray,
            Count = alike.Count,
            MostInTime = MostBeforeSpray(first),
            Order = work.Orders[first.Order].Number,
            What = Describe(work, line),
            Says = line.Piece.Note,
            OldCoat = first is { IsOwn: true, IsTest: false } && IsBare(first) ? Cautioned.OldCoat(line.Piece.Hidden) : null,
            Unanswered = work.Orders[first.Order].Unanswered,
            State = first.State,
            Reason = first.Reason,
            Reworks = alike.Max(p => p.Reworks),
            PromisedAt = work.Orders[first.Order].PromisedAt,
            Step = StepOf(work, alike, batch) is { } step ? step with { IsWholeBatch = IsWhole(batch, alike) } : null,
            Way =
            [
                .. first
                    .Items.OrderBy(i => i.Number)
                    .Select(i => new StepLine(i.Number, StepWords.Of(first, i), StatusOf(i.State), Word(i.State))),
            ],
            OpenPrints = PieceTexts.Open(line, first, work.Pieces.Where(p => p.Line == first.Line)),
            IsUnprinted = Unprinted.Is(first, work.Orders[first.Order].IsPrinted),
            Names = names,
            Print = first.IsBound && names.Count == 0 ? first.BoundText ?? "its picture" : null,
            Codes = [.. alike.Select(p => p.Code)],
            IsOwn = first.IsOwn,
            Number = first.IsTest || code != first.Code ? 0 : first.Number,
            OfMany = line.Quantity,
            OwnText = !first.IsBound && (first.IsOwn || line.Texts.Count == 1) ? PieceTexts.Of(line, first, [first]) : null,
            IsTest = first.IsTest,
            MayGoBack = first is { IsTest: false, State: not PieceState.Booked } && alike.All(ReturnPieces.MayGoBack),
            Test = TestSheet.Of(work, first),
        };
    }

    // Once it is cleaned, or anything else was begun, what is on it is no old coat any more.
    private static bool IsBare(Piece piece) =>
        !piece.State.IsEnd()
        && piece.Reworks == 0
        && piece.Items.All(i => i.Kind == StepKind.Clean ? i.State != WorkState.Done : i.State is WorkState.Waiting or WorkState.Ready);

    private static IReadOnlyList<NamedPiece> NamesOf(IReadOnlyList<Piece> alike) =>
        alike.Select(p => p.BoundText).Distinct(StringComparer.Ordinal).Count() > 1
            ? [.. alike.Select(p => new NamedPiece(p.Code, p.BoundText ?? ""))]
            : [];

    // One hand after the other: the last waits while the others are sprayed, the first while the others are wiped.
    private static int? MostBeforeSpray(Piece piece)
    {
        if (
            piece.NextAttended
            is not { Kind: StepKind.Wipe, State: not WorkState.Running, Settings: { MaxWaitSeconds: { } wait } wipe } item
        )
            return null;
        var spray = piece.Items.FirstOrDefault(i => i.Number > item.Number && i.Kind == StepKind.Spray)?.Settings;
        return spray is null ? null : 1 + (wait / Math.Max(1, Math.Max(wipe.LengthSeconds, spray.LengthSeconds)));
    }

    private static bool IsWhole(Batch? batch, IReadOnlyList<Piece> alike) =>
        batch is not null && batch.Places.All(place => alike.Any(p => p.Id == place.Piece));

    // Begun from here, all of them lie in the oven together.
    private static StepCard? StepOf(OpenWork work, IReadOnlyList<Piece> alike, Batch? batch)
    {
        var (first, line) = (alike[0], work.LineOf(alike[0]));
        var station = StationFor(work, first, batch);
        if (
            StepCard.Of(first, line, work.Settings.Material(line.Piece.Material), (batch?.Code, station), work.Settings.Profile)
            is not { } card
        )
            return null;
        // In an oven that was found too cold, the time of its load counts.
        if (batch?.Settings.CountsFrom is not null && card.Timer is { } timer)
            card = card with { Timer = BatchSheet.TimerOf(batch, timer.Word) };
        var together = alike.Select(p => (p, p.NextAttended!.Number)).ToList();
        return card.Kind.InOven() && !card.IsRunning && LoadVapour.Caution(together, station, work.Now, work.Settings.Zone) is { } vapour
            ? card with
            {
                Cautions = [.. card.Cautions, vapour],
            }
            : card;
    }

    /// <summary>What a piece is, without a word about whose.</summary>
    public static string Describe(OpenWork work, OrderLine line)
    {
        var it = line.Piece;
        var face = SizeEcho.Face(it, l => FormattableString.Invariant($"{l.Millimetres:0.#}"));
        var size =
            it.Form == Domain.Materials.Form.Cylinder
                ? $"{face} mm"
                : FormattableString.Invariant($"{face} × {it.Thickness.Millimetres:0.##} mm");
        return $"{work.Settings.Material(it.Material).Name}, {size}, {StepWords.Of(line.Finish)}";
    }

    public static StatusKind StatusOf(PieceState state) =>
        state switch
        {
            PieceState.Booked => StatusKind.Waiting,
            PieceState.Received => StatusKind.Ready,
            PieceState.InWork => StatusKind.Running,
            PieceState.Reworking => StatusKind.Attention,
            PieceState.Held or PieceState.GoingBack => StatusKind.Attention,
            PieceState.CheckedGood or PieceState.HandedOver => StatusKind.Done,
            _ => StatusKind.Trouble,
        };

    private static StatusKind StatusOf(WorkState state) =>
        state switch
        {
            WorkState.Ready => StatusKind.Ready,
            WorkState.Running => StatusKind.Running,
            WorkState.Done => StatusKind.Done,
            WorkState.Failed => StatusKind.Trouble,
            _ => StatusKind.Waiting,
        };

    private static string Word(WorkState state) => state == WorkState.Skipped ? "left out" : state.ToString().ToLowerInvariant();

    // The settings are those of the station it is at, or of the only one it can go to.
    private static Domain.Stations.Station? StationFor(OpenWork work, Piece piece, Batch? batch)
    {
        if (batch is not null && work.Stations.TryGetValue(batch.Station, out var there))
            return there;
        var kind = piece.NextAttended?.Kind is { } step ? step.DoneAt() : Domain.Stations.StationKind.Bench;
        var form = work.LineOf(piece).Piece.Form;
        return work
            .Stations.Values.Where(s => s.IsActive && s.Kind == kind)
            .OrderByDescending(s => s.Settings is not Domain.Stations.PressSettings press || press.Suits(form))
            .ThenBy(s => s.Code, StringComparer.Ordinal)
            .FirstOrDefault();
    }
}

using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Counter.Clerk;

namespace ShopFloor.Web.Bench.Reading;

/// <summary>A running time with its window. Instants are UTC.</summary>
/// <param name="Word">What runs.</param>
/// <param name="Since">When it began.</param>
/// <param name="Min">From then on it may end; null: any time.</param>
/// <param name="Max">By then it must have ended; null: no limit.</param>
public sealed record StepTimer(string Word, DateTimeOffset Since, DateTimeOffset? Min, DateTimeOffset? Max);

/// <summary>One setting as label and value.</summary>
public sealed record Setting(string Label, string Value);

/// <summary>How piece and print lie in the press.</summary>
/// <param name="PrintBelow">True for glass: the print lies underneath, the coated face on it.</param>
/// <param name="Mirrored">True: text on the paper reads backwards.</param>
/// <param name="Lies">The recipe's own words.</param>
public sealed record LayUp(bool PrintBelow, bool Mirrored, string Lies)
{
    /// <summary>True for a round piece: the print goes round it.</summary>
    public bool Wraps { get; init; }
}

/// <summary>The one next step, with all that hands need to know.</summary>
public sealed record StepCard
{
    public int Number { get; init; }
    public StepKind Kind { get; init; }
    public string Word { get; init; } = "";
    public string Note { get; init; } = "";
    public bool IsRunning { get; init; }
    public string? Batch { get; init; }

    /// <summary>True when nothing else is in its batch: it may be ended from here.</summary>
    public bool IsWholeBatch { get; init; }
    public IReadOnlyList<Setting> Settings { get; init; } = [];
    public IReadOnlyList<string> Cautions { get; init; } = [];
    public LayUp? LayUp { get; init; }

    /// <summary>Where the line's picture is fetched, at the steps that are held against it; null: none.</summary>
    public string? Picture { get; init; }

    /// <summary>Why there is nothing to spray with, at Wipe already; null: there is, or it is not about a coat.</summary>
    public string? NoCan { get; init; }

    /// <summary>What is done about the faults for which pieces went back to this step; empty: none did.</summary>
    public IReadOnlyList<Mend> Mends { get; init; } = [];

    /// <summary>True when the time was computed for a thickness nobody has tried.</summary>
    public bool IsEstimate { get; init; }

    /// <summary>True when the cross-cut class is asked for.</summary>
    public bool CrossCut { get; init; }

    /// <summary>True when the gloss is asked for.</summary>
    public bool Gloss { get; init; }

    /// <summary>The step's own time, or the wait before it.</summary>
    public StepTimer? Timer { get; init; }

    /// <summary>True when it is done by hand, so that its end alone may be told.</summary>
    public bool IsHandwork => FinishStep.IsHandwork(Kind);

    /// <summary>The card of a piece's next step; null when all steps are done.</summary>
    public static StepCard? Of(
        Piece piece,
        OrderLine line,
        MaterialSheet material,
        (string? Batch, Station? Station) at,
        WorkshopProfile shop
    )
    {
        if (piece.NextAttended is not { } next)
            return null;
        return new StepCard
        {
            Number = next.Number,
            Kind = next.Kind,
            Word = StepWords.Of(piece, next),
            Note = next.Settings.Note,
            IsEstimate = next.Settings.IsEstimate,
            CrossCut = next.Settings.CrossCut,
            Gloss = next.Settings.Gloss,
            IsRunning = next.State == WorkState.Running,
            Batch = at.Batch,
            Settings = [.. SettingsOf(next.Settings, at.Station?.Settings)],
            Cautions = CautionsOf(piece, next, line, material, shop),
            LayUp = next.Kind is StepKind.Tape or StepKind.Press ? LayUpOf(piece, line) : null,
            Picture =
                next.Kind is StepKind.Tape or StepKind.Press or StepKind.Inspect && line.Picture is not null
                    ? ClerkEndpoints.Address(piece.Order, line.Number)
                    : null,
            Timer = TimerOf(piece, next),
        };
    }

    /// <summary>The time that runs for a piece: its step's, or that of the wait before its next step.</summary>
    public static StepTimer? TimerOf(Piece piece, WorkItem next)
    {
        if (next is { State: WorkState.Running, StartedAt: { } began })
            return next.Kind.HasWindow()
                ? new StepTimer(
                    StepWords.Of(next.Settings),
                    began,
                    At(began, next.Settings.MinSeconds),
                    At(began, next.Settings.MaxSeconds)
                )
                : new StepTimer(StepWords.Of(next.Settings), began, null, null);
        var before = piece.Items.FirstOrDefault(i => i.Number == next.Number - 1);
        if (before is { State: WorkState.Running, StartedAt: { } rests })
            return new StepTimer(
                StepWords.Of(before.Settings),
                rests,
                At(rests, before.Settings.MinSeconds),
                At(rests, before.Settings.MaxSeconds)
            );
        if (
            before is { State: WorkState.Done, FinishedAt: { } ended, Settings.MaxWaitSeconds: { } most }
            && next.State != WorkState.Running
        )
            return new StepTimer($"Since {StepWords.Of(before.Settings).ToLowerInvariant()}", ended, null, At(ended, most));
        return null;
    }

    // While it still flashes off, what is to be known of that stands before what comes next.
    private static IReadOnlyList<string> CautionsOf(
        Piece piece,
        WorkItem next,
        OrderLine line,
        MaterialSheet material,
        WorkshopProfile shop
    )
    {
        var rest = piece.Items.FirstOrDefault(i => i.Number == next.Number - 1 && i is { State: WorkState.Running, Kind: StepKind.Rest });
        IEnumerable<string> said =
        [
            .. rest is null ? [] : Cautioned.For(rest.Settings, material, shop),
            .. Cautioned.For(next.Settings, material, shop),
            .. HotGlass.Lines(piece, next, line.Piece, material, shop.RoomCelsius),
        ];
        return [.. said.Distinct(StringComparer.Ordinal)];
    }

    private static DateTimeOffset? At(DateTimeOffset from, int? seconds) => seconds is { } s ? from.AddSeconds(s) : null;

    private static LayUp LayUpOf(Piece piece, OrderLine line)
    {
        var press = piece.Items.FirstOrDefault(i => i.Kind == StepKind.Press);
        var below = press?.Settings.LayUp?.Contains("below", StringComparison.OrdinalIgnoreCase) ?? line.Finish == Finish.BehindGlass;
        return new LayUp(below, line.Finish.PrintIsMirrored(), press?.Settings.LayUp ?? "") { Wraps = line.Piece.Form == Form.Cylinder };
    }

    /// <summary>The settings of a step, as the station shows them.</summary>
    public static IEnumerable<Setting> SettingsOf(RecipeStep step, StationSettings? station)
    {
        if (step.Kind is StepKind.Spray or StepKind.Wipe && step.Coating is { } coating)
            yield return new Setting("Coating", StepWords.Of(coating));
        if (step.Kind == StepKind.Spray || step is { Kind: StepKind.Wipe, Ml: > 0 })
            yield return new Setting("Amount", FormattableString.Invariant($"{step.Ml:0.#} ml each"));
        if (step.Celsius is { } celsius)
        {
            var error = station switch
            {
                OvenSettings oven => oven.ErrorCelsius,
                PressSettings press => press.ErrorCelsius,
                _ => 0,
            };
            yield return new Setting("Set the dial to", FormattableString.Invariant($"{celsius + error:0.#} °C"));
            if (error != 0)
                yield return new Setting("True temperature", FormattableString.Invariant($"{celsius:0.#} °C"));
        }
        if (step.Kind.HasWindow())
            yield return new Setting("Time", StepWords.Window(step.MinSeconds, step.MaxSeconds));
        if (step.Pressure is { Length: > 0 } pressure)
            yield return new Setting("Pressure", pressure);
        if (step.Kind == StepKind.Press)
            yield return new Setting("Peel", RecipeRules.PeelOf(step));
        if (step.MaxWaitSeconds is { } wait)
            yield return new Setting("Then within", StepWords.Span(wait));
    }
}

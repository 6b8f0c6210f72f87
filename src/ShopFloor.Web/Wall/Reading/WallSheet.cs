using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Bench.Reading;

namespace ShopFloor.Web.Wall.Reading;

/// <summary>A running time on the Wall.</summary>
/// <param name="Key">What runs where: a tray whose pieces were worked on in parts has several of one.</param>
/// <param name="What">What runs.</param>
/// <param name="Where">Where, or what comes then.</param>
/// <param name="Timer">Its instants.</param>
/// <param name="Subject">Code of the batch, tray or piece.</param>
/// <param name="Source">What it is counted under.</param>
public sealed record WallTimer(string Key, string What, string Where, StepTimer Timer, string Subject, string Source)
{
    /// <summary>Names it among all: what runs where since when.</summary>
    public string Id => string.Create(CultureInfo.InvariantCulture, $"{Key} {Second(Timer.Since)}");

    internal static long Second(DateTimeOffset at) => at.UtcTicks / TimeSpan.TicksPerSecond;
}

/// <summary>A call for somebody, shown from an instant to another; the browser turns it on and off by the server's clock.</summary>
/// <param name="Key">Names its cause; the same cause gives the same key.</param>
/// <param name="Rule">Why it calls.</param>
/// <param name="What">What it is about.</param>
/// <param name="Where">Where.</param>
/// <param name="From">From then on, UTC.</param>
/// <param name="Until">Until then, UTC; null: until it is answered.</param>
/// <param name="Subject">Code that a scan answers it with; empty when it is about several.</param>
/// <param name="Source">What it comes from, for counting.</param>
public sealed record WallCall(
    string Key,
    UrgencyRule Rule,
    string What,
    string Where,
    DateTimeOffset From,
    DateTimeOffset? Until,
    string Subject,
    string Source
)
{
    /// <summary>Where it stands; null: not written down yet, so nobody can have seen it.</summary>
    public CallMark? Mark { get; init; }

    internal Calls.ActiveCall Active => new(Key, Rule.Key, Subject, Source, Rule.Priority);
}

/// <summary>What somebody does now and next, or what happens at a station.</summary>
/// <param name="Who">Person or station.</param>
/// <param name="Now">What goes on.</param>
/// <param name="Next">What comes.</param>
/// <param name="NextAt">When.</param>
/// <param name="NowAt">The moment that <paramref name="Now"/> ends with, or null.</param>
/// <param name="IsDown">Whether it cannot be used.</param>
public sealed record NowNext(string Who, string Now, string Next, WallMoment? NextAt, WallMoment? NowAt = null, bool IsDown = false);

/// <summary>A moment, with the days of the shop between today and it.</summary>
/// <param name="At">The moment, UTC.</param>
/// <param name="Days">0 today, 1 tomorrow, −1 yesterday.</param>
public sealed record WallMoment(DateTimeOffset At, int Days)
{
    internal static WallMoment Of(DateTimeOffset at, DateTimeOffset now, Office.Settings.CurrentSettings settings) =>
        new(at, settings.Day(at).DayNumber - settings.Day(now).DayNumber);
}

/// <summary>The next round, load or session.</summary>
/// <param name="Name">Its code, or what a planned one is called.</param>
/// <param name="Where">Station.</param>
/// <param name="Facts">One line: coating and ml, or dial and time.</param>
/// <param name="Pieces">How many.</param>
/// <param name="At">When; null: as soon as somebody begins.</param>
/// <param name="Surfaces">To scale, with codes.</param>
/// <param name="Ready">Codes of the pieces that can join now, be it that they still rest; empty for one that is being put together already.</param>
/// <param name="Station">Code of the station.</param>
/// <param name="Plan">Its name in the plan; null: it is being put together already.</param>
public sealed record NextBatch(
    string Name,
    string Where,
    string Facts,
    int Pieces,
    WallMoment? At,
    IReadOnlyList<SurfaceSheet> Surfaces,
    IReadOnlyList<string> Ready,
    string Station,
    string? Plan = null
)
{
    /// <summary>Round, load or session.</summary>
    public BatchKind Kind { get; init; }

    /// <summary>What is said of one whose can is gone.</summary>
    public const string Waits = "waits for a new plan";

    /// <summary>Its can is gone since the plan was made: nobody can begin it as it is planned.</summary>
    public bool WaitsForPlan { get; init; }

    /// <summary>Those of the ready that still rest; null: none.</summary>
    public StillResting? Resting { get; init; }
}

/// <summary>Pieces that can join a batch, but not begin: they flash off or cool.</summary>
/// <param name="Count">How many.</param>
/// <param name="Until">When the last of them may begin.</param>
/// <param name="Cools">True when they cool, false when they flash off.</param>
public sealed record StillResting(int Count, WallMoment Until, bool Cools);

/// <summary>A promise of today.</summary>
/// <param name="Order">Its number.</param>
/// <param name="Good">Pieces that are checked good, with nothing left to do.</param>
/// <param name="Pieces">Pieces in all.</param>
/// <param name="At">The promise.</param>
/// <param name="Spare">Time to spare by the plan; null: not planned.</param>
/// <param name="LeftOut">Why the plan leaves some of it out; null: it does not.</param>
public sealed record PromiseLine(int Order, int Good, int Pieces, WallMoment At, TimeSpan? Spare, string? LeftOut);

/// <summary>All that a wall shows. No names of customers, no prices.</summary>
public sealed record WallSheet
{
    public IReadOnlyList<WallCall> Calls { get; init; } = [];
    public IReadOnlyList<WallTimer> Timers { get; init; } = [];
    public IReadOnlyList<NowNext> Rows { get; init; } = [];
    public NextBatch? Round { get; init; }
    public NextBatch? Load { get; init; }
    public NextBatch? Session { get; init; }
    public IReadOnlyList<PromiseLine> Promises { get; init; } = [];
    public IReadOnlyList<string> Changes { get; init; } = [];

    /// <summary>What stands in no plan, and why.</summary>
    public IReadOnlyList<WallGap> Gaps { get; init; } = [];
    public int? Plan { get; init; }

    /// <summary>True when the plan after this one had to be refused: what it says may be over.</summary>
    public bool IsPlanBehind { get; init; }

    /// <summary>Names of the stations it was made for; empty: all.</summary>
    public IReadOnlyList<string> Stations { get; init; } = [];
    public double Inches { get; init; }
    public double Metres { get; init; }

    /// <summary>The shop's own zone.</summary>
    public TimeZoneInfo Zone { get; init; } = TimeZoneInfo.Utc;

    /// <summary>This sheet with the parts that say the same taken from the one before; the one before when all do.</summary>
    internal WallSheet Keeping(WallSheet before)
    {
        var kept = this with
        {
            Calls = Unchanged.Or(before.Calls, Calls),
            Timers = Unchanged.Or(before.Timers, Timers),
            Rows = Unchanged.Or(before.Rows, Rows),
            Round = Unchanged.Or(before.Round, Round),
            Load = Unchanged.Or(before.Load, Load),
            Session = Unchanged.Or(before.Session, Session),
            Promises = Unchanged.Or(before.Promises, Promises),
            Changes = Unchanged.Or(before.Changes, Changes),
            Gaps = Unchanged.Or(before.Gaps, Gaps),
            Stations = Unchanged.Or(before.Stations, Stations),
            Zone = before.Zone.Equals(Zone) ? before.Zone : Zone,
        };
        return kept == before ? before : kept;
    }

    /// <summary>Projects what is in work onto a wall.</summary>
    /// <param name="now">What is in work, with the plans.</param>
    /// <param name="at">The instant, UTC.</param>
    /// <param name="stations">Codes of the stations this wall shows; empty: all.</param>
    public static WallSheet Of(WorkNow now, DateTimeOffset at, IReadOnlyCollection<string> stations)
    {
        var timers = WallTimers.Of(now.Work, at, stations);
        var promises = WallPromises.Of(now, at);
        var next = new WallNext(now, at, stations);
        return new WallSheet
        {
            Timers = timers,
            Calls = WallCalls.Marked(WallCalls.Of(now, timers, promises, at), now.Calls),
            Rows = WallRows.Of(now, at, stations),
            Round = next.Of(Domain.Pieces.BatchKind.SprayRound),
            Load = next.Of(Domain.Pieces.BatchKind.OvenLoad),
            Session = next.Of(Domain.Pieces.BatchKind.PressSession),
            Promises = promises,
            Changes = now.Changes,
            Gaps = now.Gaps,
            Plan = now.Plan?.Number,
            IsPlanBehind = now.IsPlanBehind,
            Stations = [.. stations.Select(now.Names.Name)],
            Inches = (double)now.Work.Settings.Profile.WallInches,
            Metres = (double)now.Work.Settings.Profile.WallMetres,
            Zone = now.Work.Settings.Zone,
        };
    }
}

namespace ShopFloor.Planning.Exchange;

/// <summary>Everything the planner knows: people, stations, coatings, pieces with their routes, and what already runs.
/// Times are whole seconds from <paramref name="Zero"/>; intervals are [start, end).</summary>
/// <param name="Zero">The instant that second 0 stands for; only for display.</param>
/// <param name="HorizonS">The plan covers [0, horizon), in seconds; 1 to 10 000 000.</param>
/// <param name="RoomTenthsC">Temperature of the room in tenths of °C: what "switched off" means.</param>
/// <param name="People">Who works, unique by id.</param>
/// <param name="Stations">Where work is done, unique by id.</param>
/// <param name="Coatings">What is sprayed, unique by id, each with its cans.</param>
/// <param name="Pieces">What is to be made, unique by id.</param>
/// <param name="Running">Tasks and batches that began at or before second 0.</param>
/// <param name="Published">The plan that people already follow, or null.</param>
/// <param name="Weights">Points per unit of every part of the objective.</param>
public sealed record Day(
    DateTimeOffset Zero,
    int HorizonS,
    int RoomTenthsC,
    IReadOnlyList<Person> People,
    IReadOnlyList<Station> Stations,
    IReadOnlyList<Coating> Coatings,
    IReadOnlyList<Piece> Pieces,
    Running Running,
    Published? Published,
    Weights Weights
);

/// <summary>A half-open span of seconds [start, end).</summary>
/// <param name="FromS">First second inside.</param>
/// <param name="ToS">First second after it.</param>
public readonly record struct Span(int FromS, int ToS);

/// <summary>When a person works: [from, to), of which [normalTo, to) is overtime.</summary>
/// <param name="FromS">Start.</param>
/// <param name="NormalToS">Start of the overtime; equal to the end when there is none.</param>
/// <param name="ToS">End.</param>
public readonly record struct Shift(int FromS, int NormalToS, int ToS);

/// <summary>Somebody who works.</summary>
/// <param name="Id">1–40 of letters, digits, hyphen, underscore and dot.</param>
/// <param name="Can">The kinds of station this person may work at.</param>
/// <param name="Shifts">Sorted, disjoint and never touching.</param>
public sealed record Person(string Id, IReadOnlyList<StationKind> Can, IReadOnlyList<Shift> Shifts);

/// <summary>What is sprayed from cans.</summary>
/// <param name="Id">The coating's id.</param>
/// <param name="ShakeS">Length of the shake that opens a spray round, in seconds; at least 1.</param>
/// <param name="ShakeAgainAfterS">Longest pause inside a round, in seconds, after which it must be shaken again.</param>
/// <param name="Cans">The cans at hand, unique by id within the coating.</param>
public sealed record Coating(string Id, int ShakeS, int ShakeAgainAfterS, IReadOnlyList<Can> Cans);

/// <summary>One can of a coating.</summary>
/// <param name="Id">The can's id.</param>
/// <param name="LeftUl">What is left, in µl (thousandths of the file's ml).</param>
/// <param name="UseByS">The second from which it may no longer be sprayed, or null.</param>
public sealed record Can(string Id, int LeftUl, int? UseByS);

/// <summary>One physical thing to be made, or a tray of alike ones that travels as one.</summary>
/// <param name="Id">The piece's id.</param>
/// <param name="Order">The order that it belongs to.</param>
/// <param name="WidthUm">Width as it lies, in µm.</param>
/// <param name="DepthUm">Depth as it lies, in µm.</param>
/// <param name="ThicknessUm">Height as it lies, in µm.</param>
/// <param name="MayTurn">Whether it may be laid turned by 90°.</param>
/// <param name="EarliestS">Its first step starts no earlier.</param>
/// <param name="PromiseS">When it was promised; finished on that second is in time.</param>
/// <param name="Weight">How much its lateness counts; 0 or more.</param>
/// <param name="After">Pieces that must be finished before it begins.</param>
/// <param name="Route">Its steps in order, counted from 1.</param>
/// <param name="Done">How many steps are finished.</param>
/// <param name="LastEndS">When the last of them ended (≤ 0), null when none is.</param>
/// <param name="Pins">What the owner has fixed.</param>
public sealed record Piece(
    string Id,
    string Order,
    int WidthUm,
    int DepthUm,
    int ThicknessUm,
    bool MayTurn,
    int EarliestS,
    int PromiseS,
    int Weight,
    IReadOnlyList<string> After,
    IReadOnlyList<Step> Route,
    int Done,
    int? LastEndS,
    IReadOnlyList<Pin> Pins
)
{
    /// <summary>A cylinder that stands on its end, width and depth being its diameter: only a wrap press can press it.</summary>
    public bool Round { get; init; }
}

/// <summary>One wish of the owner about one step; exactly one of the four is given.</summary>
/// <param name="Step">The step, counted from 1.</param>
/// <param name="NotBeforeS">The step starts no earlier.</param>
/// <param name="AtS">The step starts exactly then.</param>
/// <param name="Station">The step is done there.</param>
/// <param name="With">The step shares its batch with this piece.</param>
public sealed record Pin(int Step, int? NotBeforeS = null, int? AtS = null, string? Station = null, string? With = null);

/// <summary>What had begun at or before second 0; an open end is the planner's to choose.</summary>
/// <param name="Tasks">Tasks as in a plan.</param>
/// <param name="Batches">Batches as in a plan.</param>
public sealed record Running(IReadOnlyList<PlanTask> Tasks, IReadOnlyList<Batch> Batches)
{
    /// <summary>Nothing runs.</summary>
    public static Running Nothing { get; } = new([], []);
}

/// <summary>The plan that people follow now.</summary>
/// <param name="Version">Its number.</param>
/// <param name="NearS">Steps that start before this second should stay.</param>
/// <param name="MovedS">A start that moves by no more than this is no change.</param>
/// <param name="Steps">Where and when each step was to start.</param>
public sealed record Published(int Version, int NearS, int MovedS, IReadOnlyList<PublishedStep> Steps);

/// <summary>One step of the published plan.</summary>
/// <param name="Piece">The piece.</param>
/// <param name="Step">The step, counted from 1.</param>
/// <param name="Station">Its station.</param>
/// <param name="StartS">Its start.</param>
public sealed record PublishedStep(string Piece, int Step, string Station, int StartS);

/// <summary>Points per unit of each part of the objective; 0 or more. Smaller totals are better.</summary>
/// <param name="LeftOut">Per piece left out.</param>
/// <param name="LateS">Per weighted second after the promise.</param>
/// <param name="LatePieces">Per late piece.</param>
/// <param name="OvertimeS">Per person-second of overtime.</param>
/// <param name="OvenLoads">Per oven load.</param>
/// <param name="OvenS">Per second of dwell.</param>
/// <param name="Shakes">Per shake.</param>
/// <param name="SetPoints">Per change of set point that is not to room temperature.</param>
/// <param name="FinishS">Per second until the last attended task ends.</param>
/// <param name="Changed">Per near step of the published plan that moved.</param>
public sealed record Weights(
    long LeftOut,
    long LateS,
    long LatePieces,
    long OvertimeS,
    long OvenLoads,
    long OvenS,
    long Shakes,
    long SetPoints,
    long FinishS,
    long Changed
)
{
    /// <summary>The shipped weights: common practice, no source.</summary>
    public static Weights Default { get; } = new(10_000_000, 10, 36_000, 5, 3_000, 1, 600, 1_200, 1, 300);
}

namespace ShopFloor.Planning.Exchange;

/// <summary>Who does what, where and when, with which other pieces.</summary>
/// <param name="DaySha256">Fingerprint of the day file's bytes, 64 lower-case hexadecimal digits.</param>
/// <param name="Tasks">Sorted by start, end, station, piece.</param>
/// <param name="Batches">Spray rounds, oven loads and press sessions.</param>
/// <param name="LeftOut">Pieces that are not planned, each with its reason.</param>
/// <param name="UnmetPins">Pins that could not be kept, each with its reason.</param>
/// <param name="Objective">What the plan costs and what any plan must cost.</param>
/// <param name="Why">Why steps start no earlier, and what would help late pieces.</param>
/// <param name="Search">Which search found it.</param>
/// <param name="TimingMs">How long that took, in milliseconds; no part of what makes two plans equal.</param>
public sealed record Plan(
    string DaySha256,
    IReadOnlyList<PlanTask> Tasks,
    IReadOnlyList<Batch> Batches,
    IReadOnlyList<LeftOut> LeftOut,
    IReadOnlyList<UnmetPin> UnmetPins,
    Objective Objective,
    IReadOnlyList<Why> Why,
    SearchNote Search,
    long TimingMs
);

/// <summary>Words of the format.</summary>
public static class TaskKinds
{
    /// <summary>Shake that opens a spray round.</summary>
    public const string Shake = "shake";

    /// <summary>Loading an oven.</summary>
    public const string Load = "load";

    /// <summary>Time in the closed oven.</summary>
    public const string Dwell = "dwell";

    /// <summary>Unloading an oven.</summary>
    public const string Unload = "unload";

    /// <summary>A change of an oven's or a press's set point.</summary>
    public const string SetPoint = "set point";

    /// <summary>One press session.</summary>
    public const string Press = "press";

    /// <summary>A spray.</summary>
    public const string Spray = "spray";

    /// <summary>A rest on a rack.</summary>
    public const string Rest = "rest";

    private static readonly string[] StepWords = ["clean", "mask", "wipe", Spray, Rest, "cure", "dry", "tape", Press, "inspect", "pack"];

    /// <summary>The word of a step kind.</summary>
    public static string Of(StepKind kind) => StepWords[(int)kind];

    /// <summary>The step kind of a word, or null when it is none.</summary>
    public static StepKind? StepOf(string word)
    {
        var at = Array.IndexOf(StepWords, word);
        return at < 0 ? null : (StepKind)at;
    }
}

/// <summary>Words for the three kinds of batch.</summary>
public static class BatchKinds
{
    /// <summary>Pieces sprayed one after another from one can after one shake.</summary>
    public const string Round = "spray round";

    /// <summary>Pieces in one oven at one temperature for one time.</summary>
    public const string Load = "oven load";

    /// <summary>Pieces in one press at once.</summary>
    public const string Session = "press session";
}

/// <summary>One task of the timeline.</summary>
/// <param name="Kind">A step kind's word or one of <see cref="TaskKinds"/>; an unknown word is the checker's to report.</param>
/// <param name="Station">Where.</param>
/// <param name="Person">Who; null when nobody is needed.</param>
/// <param name="StartS">First second.</param>
/// <param name="EndS">First second after it; null only for running tasks whose end is open.</param>
/// <param name="Piece">The piece, when the task is one piece's.</param>
/// <param name="Step">Its step, counted from 1.</param>
/// <param name="Batch">The batch, when the task is a batch's.</param>
/// <param name="FromTenthsC">Set point before the change.</param>
/// <param name="ToTenthsC">Set point after the change.</param>
public sealed record PlanTask(
    string Kind,
    string Station,
    string? Person,
    int StartS,
    int? EndS,
    string? Piece = null,
    int? Step = null,
    string? Batch = null,
    int? FromTenthsC = null,
    int? ToTenthsC = null
);

/// <summary>Pieces that share a station and a setting.</summary>
/// <param name="Id">R…, L… or S… with a number by start; a running batch keeps its id.</param>
/// <param name="Kind">One of <see cref="BatchKinds"/>.</param>
public sealed record Batch(string Id, string Kind)
{
    /// <summary>Round: the coating.</summary>
    public string? Coating { get; init; }

    /// <summary>Round: the can.</summary>
    public string? Can { get; init; }

    /// <summary>Load, session: true temperature in tenths of °C.</summary>
    public int? TenthsC { get; init; }

    /// <summary>Session: pressed seconds.</summary>
    public int? PressS { get; init; }

    /// <summary>Session: pressure.</summary>
    public string? Pressure { get; init; }

    /// <summary>Session: lay-up.</summary>
    public string? LayUp { get; init; }

    /// <summary>Load, session: one place per member.</summary>
    public IReadOnlyList<Place> Places { get; init; } = [];
}

/// <summary>Where a piece lies: the corner nearest the origin, after turning.</summary>
/// <param name="Piece">The piece.</param>
/// <param name="Step">Its step, counted from 1.</param>
/// <param name="Shelf">Shelf, counted from 1; null in a press.</param>
/// <param name="XUm">In µm from the left edge.</param>
/// <param name="YUm">In µm from the front edge.</param>
/// <param name="Turned">Whether width and depth are exchanged.</param>
public sealed record Place(string Piece, int Step, int? Shelf, int XUm, int YUm, bool Turned);

/// <summary>A piece that is not planned.</summary>
/// <param name="Piece">The piece.</param>
/// <param name="Reason">One of: too large, no station, no window, no coating, no time, pinned away, waits for piece.</param>
/// <param name="Text">The reason in a sentence.</param>
public sealed record LeftOut(string Piece, string Reason, string Text)
{
    /// <summary>Which coating there is too little of; null for other reasons. The file has no field for it: the sentence begins with it.</summary>
    public string? Coating =>
        Reason != NoCoating ? null
        : Text.StartsWith(NoCanOf, StringComparison.Ordinal) ? Text[NoCanOf.Length..].Split(' ')[0]
        : Text.StartsWith(TooLittleOf, StringComparison.Ordinal) ? Text[TooLittleOf.Length..].Split(' ')[0]
        : null;

    /// <summary>The reason when it is the coating.</summary>
    internal const string NoCoating = "no coating";

    /// <summary>How the sentence begins when no can holds enough for the piece; the coating's id follows.</summary>
    internal const string NoCanOf = "No can of ";

    /// <summary>How it begins when the cans do not hold enough for all pieces; the coating's id follows.</summary>
    internal const string TooLittleOf = "Too little ";
}

/// <summary>A pin that is not kept.</summary>
/// <param name="Piece">The piece.</param>
/// <param name="Step">The step, counted from 1.</param>
/// <param name="Text">Why.</param>
public sealed record UnmetPin(string Piece, int Step, string Text);

/// <summary>The value of a plan and a lower bound of every plan's value.</summary>
/// <param name="Value">Sum of the points.</param>
/// <param name="Bound">Sum of the bounds.</param>
/// <param name="Parts">The parts in order of importance.</param>
public sealed record Objective(long Value, long Bound, IReadOnlyList<ObjectivePart> Parts)
{
    /// <summary>The parts' names in order of importance.</summary>
    public static IReadOnlyList<string> Names { get; } =
    ["left_out", "late_s", "late_pieces", "overtime_s", "oven_loads", "oven_s", "shakes", "set_points", "finish_s", "changed"];
}

/// <summary>One part of the objective.</summary>
/// <param name="Name">One of <see cref="Objective.Names"/>.</param>
/// <param name="Amount">How much of it.</param>
/// <param name="Points">Amount times weight.</param>
/// <param name="Bound">Points that no plan can go below.</param>
public sealed record ObjectivePart(string Name, long Amount, long Points, long Bound);

/// <summary>What stopped something from starting a second earlier.</summary>
/// <param name="Piece">The piece, or null when it is about a batch.</param>
/// <param name="Step">The step, counted from 1.</param>
/// <param name="Batch">The batch, or null when it is about a piece.</param>
/// <param name="HeldBy">One of: previous step, rest minimum, person, station, set point, member, pin, chosen.</param>
/// <param name="Name">Which person, station, piece or step.</param>
/// <param name="Helps">For a late piece: what would help.</param>
public sealed record Why(string? Piece, int? Step, string? Batch, string HeldBy, string? Name = null, string? Helps = null);

/// <summary>How the plan was found, enough to find it again.</summary>
/// <param name="Planner">Name of the search.</param>
/// <param name="Seed">Its seed.</param>
/// <param name="Chains">Independent searches side by side; null when the file does not say.</param>
/// <param name="Rounds">Finished rounds; null: not repeatable.</param>
/// <param name="Steps">Steps taken in all.</param>
/// <param name="Proved">Whether no better plan exists.</param>
public sealed record SearchNote(string Planner, ulong Seed, int? Chains, int? Rounds, long Steps, bool Proved);

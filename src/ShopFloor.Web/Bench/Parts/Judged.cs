using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Shared;

namespace ShopFloor.Web.Bench.Parts;

/// <summary>A judgement at Inspect as it was pressed, kept whole when the time around it has to be decided first.</summary>
/// <param name="Target">Of what.</param>
/// <param name="Fault">What is wrong; null: good.</param>
/// <param name="Follow">What follows from it.</param>
/// <param name="Most">Of how many pieces of a tray; 1 for a piece.</param>
public sealed record Judged(Target Target, FaultKind? Fault = null, Follow? Follow = null, int Most = 1)
{
    /// <summary>What to send, with what was measured.</summary>
    public Inspection Inspection(Measured measured, string? outOfTime) =>
        Fault is { } fault && Follow is { } follow
            ? new Inspection(Target, measured.Findings([fault.Key]), follow.Decision with { Reason = fault.Name }, outOfTime)
            : new Inspection(Target, measured.Findings([]), null, outOfTime);

    /// <summary>The same in words, for the button that goes on with it.</summary>
    public string Said(Spoken said) =>
        Fault is { } fault && Follow is { } follow ? $"{said[fault.Name]}: {Words(follow, said)}" : Good(said);

    private int Meant => Target.Only?.Count ?? Target.Count ?? Most;

    private string Words(Follow follow, Spoken said) =>
        Most > 1 ? said[follow.OfMany, Meant, Most, said[follow.Argument]] : said[follow.Text, said[follow.Argument]];

    private string Good(Spoken said) =>
        Most == 1 ? said["Good"]
        : Meant < Most ? said["{0} of {1} good", Meant, Most]
        : said["All {0} good", Most];
}

using System.Text.Json;
using Microsoft.AspNetCore.Components;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Bench.Batches;

namespace ShopFloor.Web.Bench;

/// <summary>What became of a tap, as the page's script tells it after the server's answer.</summary>
public sealed class MoveOutcomeArgs : EventArgs
{
    public bool Ok { get; set; }
    public string? Text { get; set; }
    public Guid Command { get; set; }
    public string? Move { get; set; }
    public string? Batch { get; set; }
    public string? Tap { get; set; }
    public IReadOnlyList<OutcomeRefusal> Refusals { get; set; } = [];

    /// <summary>True when a person has to decide about time, temperature or a missing test before it can go on.</summary>
    public bool IsToDecide => !Ok && Refusals.Count > 0 && Refusals.All(r => MemberQuestions.IsToDecide(r.Code));

    /// <summary>When what is to be decided of has ended, by its tap; null: it has not ended, or nobody knows.</summary>
    public DateTimeOffset? EndedAt => Sent is { Move: "finish" or "finishBatch", AtSignal: false, At: { } at } ? at : null;

    /// <summary>The tap that was sent.</summary>
    public Tap? Sent => Tap is null ? null : JsonSerializer.Deserialize<Tap>(Tap, JsonForms.Default);
}

/// <summary>A refusal as the script hands it over.</summary>
public sealed record OutcomeRefusal(string Code, string Text, string? Field = null)
{
    /// <summary>Codes of the members of a batch that it asks about; none: it asks about the whole.</summary>
    public IReadOnlyList<string> Pieces => MemberQuestions.IsToDecide(Code) && Field is not "celsius" ? Field?.Split(' ') ?? [] : [];
}

/// <summary>Makes the browser's event known to Razor.</summary>
[EventHandler("onmoveoutcome", typeof(MoveOutcomeArgs), enableStopPropagation: true, enablePreventDefault: false)]
public static class EventHandlers;

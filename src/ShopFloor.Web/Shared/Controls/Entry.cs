using Microsoft.AspNetCore.Components;
using ShopFloor.Domain;

namespace ShopFloor.Web.Shared.Controls;

/// <summary>
/// What every labelled control has. Its <see cref="Name"/> is the id of the control, its name in a posted form and the
/// <see cref="Refusal.Field"/> of what is wrong with it, so that summary, field and use case speak of the same thing.
/// </summary>
public abstract class Entry : ComponentBase
{
    [Parameter, EditorRequired]
    public string Name { get; set; } = "";

    [Parameter, EditorRequired]
    public string Label { get; set; } = "";

    /// <summary>A short help that is always visible.</summary>
    [Parameter]
    public string? Hint { get; set; }

    /// <summary>What is wrong; without it the refusal of the surrounding <see cref="FaultFrame"/> that names this field.</summary>
    [Parameter]
    public string? Error { get; set; }

    [Parameter]
    public bool Disabled { get; set; }

    /// <summary>Further attributes of the control itself, for instance <c>autocomplete</c> or <c>maxlength</c>.</summary>
    [Parameter(CaptureUnmatchedValues = true)]
    public IReadOnlyDictionary<string, object>? More { get; set; }

    [CascadingParameter(Name = FaultFrame.Cascade)]
    private IReadOnlyList<Refusal>? Faults { get; set; }

    [CascadingParameter]
    private FaultFrame? Frame { get; set; }

    [CascadingParameter]
    private ActForm? Form { get; set; }

    protected string? Fault => Error ?? Faults?.FirstOrDefault(f => string.Equals(f.Field, Name, StringComparison.Ordinal))?.Text;

    /// <summary>Tells the form that the field has another value, which it can read.</summary>
    protected void Corrected()
    {
        Form?.Touch();
        if (Fault is not null)
            Frame?.Corrected(Name);
    }

    protected string HintId => $"{Name}-hint";

    protected string FaultId => $"{Name}-fault";

    protected string? Invalid => Fault is null ? null : "true";

    protected virtual string? DescribedBy => Join(Hint is null ? null : HintId, Fault is null ? null : FaultId);

    protected static string? Join(params ReadOnlySpan<string?> ids)
    {
        var text = string.Join(' ', ids.ToArray().Where(id => id is not null));
        return text.Length == 0 ? null : text;
    }
}

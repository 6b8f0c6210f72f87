using ShopFloor.Domain;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Recipes;

/// <summary>A step of a draft.</summary>
/// <param name="Key">Stays with the step wherever it is moved to.</param>
/// <param name="Step">As it stands, without what is typed.</param>
/// <param name="Part">Which of the draft's numbers are its own.</param>
public sealed record DraftStep(int Key, RecipeStep Step, Range Part);

/// <summary>The steps of a recipe while the owner changes them: what is typed stays with its step when steps come, go and move.</summary>
public sealed class RecipeDraft
{
    private int lastKey;
    private List<(int Key, RecipeStep Step)> steps;
    private (List<(int Key, RecipeStep Step)> Steps, NumberEntries<IReadOnlyList<RecipeStep>> Entries, int Key)? before;

    /// <summary>Begins with the steps of a recipe.</summary>
    public RecipeDraft(IReadOnlyList<RecipeStep> start)
    {
        steps = [.. start.Select(s => (++lastKey, s))];
        Entries = new(RecipeNumbers.Of(start), start);
    }

    /// <summary>What is typed.</summary>
    public NumberEntries<IReadOnlyList<RecipeStep>> Entries { get; private set; }

    /// <summary>The steps in order, without what is typed.</summary>
    public IReadOnlyList<RecipeStep> Steps => [.. steps.Select(s => s.Step)];

    /// <summary>The steps with their keys.</summary>
    public IReadOnlyList<DraftStep> Rows =>
        [.. steps.Zip(RecipeNumbers.Parts(Steps), (s, part) => new DraftStep(s.Key, part.Step, part.Part))];

    /// <summary>What is wrong with the order as it stands.</summary>
    public IReadOnlyList<Refusal> Order => RecipeOrder.Faults(Steps);

    /// <summary>The step that was taken out last and where it stood, counted from 0; null: nothing can be put back.</summary>
    public (RecipeStep Step, int Place)? TakenOut =>
        before is { } was && was.Steps.FindIndex(s => s.Key == was.Key) is var place ? (was.Steps[place].Step, place) : null;

    /// <summary>Adds a step after another.</summary>
    /// <returns>The key of the new step.</returns>
    public int Add(int after, RecipeStep step)
    {
        before = null;
        Become([.. steps[..(Place(after) + 1)], (++lastKey, step), .. steps[(Place(after) + 1)..]]);
        return lastKey;
    }

    /// <summary>Takes a step out; a recipe keeps one.</summary>
    public void TakeOut(int key)
    {
        if (steps.Count == 1)
            return;
        var kept = (steps, Entries, key);
        Become([.. steps.Where(s => s.Key != key)]);
        before = kept;
    }

    /// <summary>Puts the step back that was taken out last, with what was typed in it.</summary>
    /// <returns>Its key.</returns>
    public int PutBack()
    {
        var was = before!.Value;
        var (rest, typed) = (steps, Entries);
        (steps, Entries, before) = ([.. was.Steps.Select(s => (s.Key, Latest(s, rest)))], was.Entries, null);
        CarryOver(rest, typed);
        return was.Key;
    }

    /// <summary>Moves a step up (−1) or down (1); at the end of the list nothing happens.</summary>
    public void Move(int key, int by)
    {
        var (from, to) = (Place(key), Place(key) + by);
        if (to < 0 || to >= steps.Count)
            return;
        before = null;
        List<(int Key, RecipeStep Step)> moved = [.. steps];
        (moved[from], moved[to]) = (moved[to], moved[from]);
        Become(moved);
    }

    /// <summary>Takes what is measured at inspection from others.</summary>
    public void Measure(IReadOnlyList<RecipeStep> from) =>
        steps = [.. steps.Zip(RecipeNumbers.WithMeasured(Steps, from), (s, step) => (s.Key, step))];

    /// <summary>Takes what a step says besides its numbers from another: its note, its pressure, its peel and how piece and print lie.</summary>
    /// <returns>The steps with their keys.</returns>
    public IReadOnlyList<DraftStep> Describe(int key, RecipeStep from)
    {
        steps = [.. steps.Select(s => s.Key == key ? (s.Key, RecipeNumbers.WithWords(s.Step, from)) : s)];
        return Rows;
    }

    /// <summary>The steps with what is typed, or every number that cannot be read.</summary>
    public Result<IReadOnlyList<RecipeStep>> Read() =>
        Entries
            .Read()
            .Then(read => Result<IReadOnlyList<RecipeStep>>.Ok(RecipeNumbers.WithWords(RecipeNumbers.WithMeasured(read, Steps), Steps)));

    // A step as it was changed while another was taken out.
    private static RecipeStep Latest((int Key, RecipeStep Step) was, List<(int Key, RecipeStep Step)> now) =>
        now.Find(s => s.Key == was.Key).Step is { } step ? step with { Number = was.Step.Number } : was.Step;

    private int Place(int key) => steps.FindIndex(s => s.Key == key);

    private void Become(List<(int Key, RecipeStep Step)> next)
    {
        var (old, typed) = (steps, Entries);
        steps = [.. next.Select((s, i) => (s.Key, s.Step with { Number = i + 1 }))];
        Entries = new(RecipeNumbers.Of(Steps), Steps);
        CarryOver(old, typed);
    }

    // A field is named after the place of its step, which may be another one now.
    private void CarryOver(List<(int Key, RecipeStep Step)> old, NumberEntries<IReadOnlyList<RecipeStep>> typed)
    {
        foreach (var row in Rows)
            if (old.Find(s => s.Key == row.Key).Step is { } was)
                foreach (var (now, then) in Entries.Fields.Take(row.Part).Zip(RecipeNumbers.Of(was)))
                    Entries[now.Name] = typed[then.Name];
    }
}

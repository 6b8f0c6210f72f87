using Microsoft.Extensions.Localization;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Web.Office.Recipes;

/// <summary>Where in the list of steps the keyboard goes.</summary>
public enum StepSpot
{
    /// <summary>The step's name.</summary>
    Name,

    /// <summary>Its button that moves it up.</summary>
    Up,

    /// <summary>Its button that moves it down.</summary>
    Down,

    /// <summary>The button that puts back what was taken out.</summary>
    PutBack,
}

/// <summary>What the buttons of the list of steps do to the draft, what is said of it and where the keyboard goes.</summary>
/// <param name="draft">The steps.</param>
/// <param name="texts">The page's language.</param>
public sealed class StepActs(RecipeDraft draft, IStringLocalizer texts)
{
    private (int Key, StepSpot Spot)? focus;

    /// <summary>What was done, for a screen reader.</summary>
    public string Said { get; private set; } = "";

    /// <summary>Where the keyboard goes, asked once after each act; null: where it is.</summary>
    public (int Key, StepSpot Spot)? TakeFocus()
    {
        var to = focus;
        focus = null;
        return to;
    }

    /// <summary>Moves a step; the keyboard stays on the button.</summary>
    public void Move(int key, int by)
    {
        draft.Move(key, by);
        Say("Now {0}.", key, by < 0 ? StepSpot.Up : StepSpot.Down);
    }

    /// <summary>Adds a step.</summary>
    public void Add(int after, RecipeStep step) => Say("Added: {0}.", draft.Add(after, step), StepSpot.Name);

    /// <summary>Takes a step out; the keyboard goes to the button that stands in its place.</summary>
    public void TakeOut(DraftStep row)
    {
        draft.TakeOut(row.Key);
        (Said, focus) = (texts["{0} was taken out.", RecipeNumbers.Words(row.Step)], (row.Key, StepSpot.PutBack));
    }

    /// <summary>Puts it back.</summary>
    public void PutBack() => Say("Back again: {0}.", draft.PutBack(), StepSpot.Name);

    private void Say(string text, int key, StepSpot spot)
    {
        var title = RecipeNumbers.Title(draft.Rows.First(r => r.Key == key).Step);
        (Said, focus) = (texts[text, title], (key, spot));
    }
}

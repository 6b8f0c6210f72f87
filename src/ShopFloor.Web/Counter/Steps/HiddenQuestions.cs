using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Counter.Intake;
using Coat = ShopFloor.Domain.Materials.Answer;

namespace ShopFloor.Web.Counter.Steps;

/// <summary>What is asked about what hides in a piece: it depends on what the piece is made of and on its form.</summary>
public static class HiddenQuestions
{
    /// <summary>The questions for a piece.</summary>
    public static IReadOnlyList<HiddenPartQuestion> Of(LineEntry line, CounterChoices choices) =>
        HiddenPartQuestion.For(choices.Material(line.Material).Class, line.Form ?? Form.Flat);

    /// <summary>Asked as soon as it is known which ones make sense.</summary>
    public static bool AreAsked(LineEntry line) => line is { IsOwn: true, Material.Length: > 0, Form: not null };

    /// <summary>One answer to all of them: nothing of this, not known, or taken back. It is said of an old coat, too.</summary>
    public static LineEntry Said(LineEntry line, HiddenAnswer answer) =>
        line with
        {
            HiddenAnswer = answer,
            Hidden = [],
            OldCoat = answer switch
            {
                HiddenAnswer.Nothing => Coat.No,
                HiddenAnswer.DontKnow => Coat.Unknown,
                _ => null,
            },
        };

    /// <summary>One part ticked or not; whoever ticks has seen what else stands there.</summary>
    public static LineEntry Ticked(LineEntry line, string part, bool on) =>
        line with
        {
            HiddenAnswer = HiddenAnswer.Some,
            Hidden = on ? [.. line.Hidden.Where(p => p != part), part] : [.. line.Hidden.Where(p => p != part)],
            OldCoat = line.OldCoat == Coat.Yes ? Coat.Yes : Coat.No,
        };

    /// <summary>The old coat ticked or not.</summary>
    public static LineEntry Coated(LineEntry line, bool on) =>
        line with
        {
            HiddenAnswer = HiddenAnswer.Some,
            Hidden = line.HiddenAnswer == HiddenAnswer.Some ? line.Hidden : [],
            OldCoat = on ? Coat.Yes : Coat.No,
        };

    /// <summary>What was said of an old coat, in words.</summary>
    public static string CoatWord(Coat? said) =>
        said switch
        {
            Coat.No => "No, it is bare",
            Coat.Yes => "Yes",
            _ => "I don’t know",
        };

    /// <summary>The changed line; answers to other questions than are asked now are taken away, so that nobody is taken to have said what was not asked.</summary>
    public static LineEntry Keep(LineEntry before, LineEntry after, CounterChoices choices) =>
        Of(before, choices).SequenceEqual(Of(after, choices)) ? after : Said(after, HiddenAnswer.NotYet);
}

using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Counter.Intake;

namespace ShopFloor.Web.Counter.Steps;

/// <summary>What is asked about what hides in a piece: it depends on what the piece is made of and on its form.</summary>
public static class HiddenQuestions
{
    /// <summary>The questions for a piece.</summary>
    public static IReadOnlyList<HiddenPartQuestion> Of(LineEntry line, CounterChoices choices) =>
        HiddenPartQuestion.For(choices.Material(line.Material).Class, line.Form ?? Form.Flat);

    /// <summary>Asked as soon as it is known which ones make sense.</summary>
    public static bool AreAsked(LineEntry line) => line is { IsOwn: true, Material.Length: > 0, Form: not null };

    /// <summary>The changed line; answers to other questions than are asked now are taken away, so that nobody is taken to have said what was not asked.</summary>
    public static LineEntry Keep(LineEntry before, LineEntry after, CounterChoices choices) =>
        Of(before, choices).SequenceEqual(Of(after, choices)) ? after : after with { HiddenAnswer = HiddenAnswer.NotYet, Hidden = [] };
}

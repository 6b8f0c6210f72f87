using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Shared.Look;

namespace ShopFloor.Web.Bench.Parts;

/// <summary>One thing that can follow from a fault.</summary>
/// <param name="Decision">What is done.</param>
/// <param name="Text">The words for one piece; the argument stands in {0}.</param>
/// <param name="OfMany">The words for {0} of the {1} pieces of a tray; the argument stands in {2}.</param>
/// <param name="Argument">What the words are about.</param>
/// <param name="Sign">The sign beside them.</param>
/// <param name="IsUsual">True when this is what is usually done.</param>
public sealed record Follow(TimeDecision Decision, string Text, string OfMany, string Argument, Glyph Sign, bool IsUsual);

/// <summary>What can follow from a fault, what is usually done first.</summary>
public static class Follows
{
    public static IReadOnlyList<Follow> For(FaultKind fault, IReadOnlyList<StepLine> way)
    {
        var all = new List<Follow>();
        foreach (var step in Steps(fault, way))
            all.Add(
                new Follow(
                    new TimeDecision(TimeChoice.Rework, "", step.Number),
                    "Back to: {0}",
                    "{0} of {1} back to: {2}",
                    step.Word,
                    Glyph.Undo,
                    fault.Usual == UsualAction.Rework
                )
            );
        all.Add(
            new Follow(
                new TimeDecision(TimeChoice.Hold, ""),
                "Put it aside",
                "Put {0} of {1} aside",
                "",
                Glyph.Hold,
                fault.Usual == UsualAction.Hold
            )
        );
        all.Add(
            new Follow(
                new TimeDecision(TimeChoice.Test, ""),
                "Put aside, test first",
                "Put {0} of {1} aside, test first",
                "",
                Glyph.Question,
                false
            )
        );
        all.Add(
            new Follow(
                new TimeDecision(TimeChoice.Spoil, ""),
                "Report it as spoiled",
                "Report {0} of {1} as spoiled",
                "",
                Glyph.Trash,
                fault.Usual == UsualAction.Spoil
            )
        );
        all.Add(
            new Follow(
                new TimeDecision(TimeChoice.GoOn, ""),
                "Only note it, go on",
                "Only note it on {0} of {1}, go on",
                "",
                Glyph.Play,
                false
            )
        );
        return [.. all.OrderByDescending(f => f.IsUsual)];
    }

    // Where this fault is usually mended, and the step at hand; never a step that was not reached.
    private static IEnumerable<StepLine> Steps(FaultKind fault, IReadOnlyList<StepLine> way)
    {
        var reached = way.Where(s => s.Status is StatusKind.Done or StatusKind.Running or StatusKind.Ready).ToList();
        var usual = fault.From is { } kind ? reached.LastOrDefault(s => s.Word == StepWords.Of(new RecipeStep(1, kind))) : null;
        var now = reached.LastOrDefault(s => s.Status is StatusKind.Running or StatusKind.Ready && s.Word is not ("Flash-off" or "Cool"));
        return new[] { usual, now }.OfType<StepLine>().Distinct();
    }
}

using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Shared.Look;

namespace ShopFloor.Web.Bench.Parts;

/// <summary>One thing that can follow from a fault.</summary>
public sealed record Follow(TimeDecision Decision, string Text, string Argument, Glyph Sign, bool IsUsual);

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
                    step.Word,
                    Glyph.Undo,
                    fault.Usual == UsualAction.Rework
                )
            );
        all.Add(new Follow(new TimeDecision(TimeChoice.Hold, ""), "Put aside", "", Glyph.Hold, fault.Usual == UsualAction.Hold));
        all.Add(new Follow(new TimeDecision(TimeChoice.Test, ""), "Put aside, test first", "", Glyph.Question, false));
        all.Add(new Follow(new TimeDecision(TimeChoice.Spoil, ""), "Spoiled", "", Glyph.Trash, fault.Usual == UsualAction.Spoil));
        all.Add(new Follow(new TimeDecision(TimeChoice.GoOn, ""), "Only note it, go on", "", Glyph.Play, false));
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

using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Domain.Yield;

/// <summary>How a piece came through a step.</summary>
public enum StepEnd
{
    /// <summary>Right the first time.</summary>
    Good,

    /// <summary>What was found there sent it back to be worked again.</summary>
    Reworked,

    /// <summary>What was found there was its end.</summary>
    Lost,
}

/// <summary>A step of a recipe, told from the others like it by how many of them came before.</summary>
/// <param name="Number">Its place in the recipe of the piece.</param>
/// <param name="Kind">What is done.</param>
/// <param name="Coating">With what.</param>
/// <param name="Nth">1 for the first of its kind and coating, 2 for the second.</param>
public readonly record struct StepPlace(int Number, StepKind Kind, CoatingKind? Coating, int Nth);

/// <summary>
/// Where pieces are lost and sent back: each fault counts at the step at which it was seen. That need not be the step that made it, which nobody
/// can read off a piece.
/// </summary>
public static class StepLosses
{
    /// <summary>The steps that a piece went into, each once, with how it came through.</summary>
    /// <param name="counting">Its events that count, in order.</param>
    public static IReadOnlyDictionary<StepPlace, StepEnd> Of(IReadOnlyList<PieceEvent> counting)
    {
        IReadOnlyList<RecipeStep> steps = [];
        var ends = new SortedDictionary<int, StepEnd>();
        int? at = null;
        int? seen = null;
        void Worst(StepEnd end)
        {
            if ((seen ?? at) is { } step)
                ends[step] = end > ends.GetValueOrDefault(step) ? end : ends[step];
            seen = null;
        }
        foreach (var happened in counting)
            switch (happened)
            {
                case PieceBooked booked:
                    steps = booked.Steps;
                    break;
                case StepStarted { Step: var step }:
                    ends.TryAdd(step, StepEnd.Good);
                    (at, seen) = (step, null);
                    break;
                case StepFinished { Step: var step }:
                    ends.TryAdd(step, StepEnd.Good);
                    at = step;
                    break;
                case FaultFound { Step: { } step }:
                    seen = Worked(steps, step);
                    ends.TryAdd(seen.Value, StepEnd.Good);
                    break;
                case ReworkBegun:
                    Worst(StepEnd.Reworked);
                    break;
                case PieceSpoiled:
                    Worst(StepEnd.Lost);
                    break;
            }
        return Places(steps).Where(p => !p.Kind.IsRest() && ends.ContainsKey(p.Number)).ToDictionary(p => p, p => ends[p.Number]);
    }

    // What is seen while a piece waits is seen when hands take it up for the next step.
    private static int Worked(IReadOnlyList<RecipeStep> steps, int number) =>
        steps.FirstOrDefault(s => s.Number >= number && !s.Kind.IsRest())?.Number ?? number;

    private static IEnumerable<StepPlace> Places(IReadOnlyList<RecipeStep> steps) =>
        steps.Select(
            (s, i) => new StepPlace(s.Number, s.Kind, s.Coating, 1 + steps.Take(i).Count(b => b.Kind == s.Kind && b.Coating == s.Coating))
        );
}

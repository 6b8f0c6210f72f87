using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pricing;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;

namespace ShopFloor.Web.Counter.Booking;

/// <summary>A line judged: verdict, steps, price; or its faults.</summary>
/// <param name="Recipe">The recipe it would be made by.</param>
/// <param name="Steps">Fitted to the piece; empty when there are faults.</param>
/// <param name="Quote">What is shown.</param>
public sealed record JudgedLine(Recipe? Recipe, IReadOnlyList<RecipeStep> Steps, LineQuote Quote)
{
    /// <summary>The same with one more fault: what is known of it stays.</summary>
    internal JudgedLine With(Refusal fault) => this with { Quote = Quote with { Faults = [.. Quote.Faults, fault] } };
}

/// <summary>Judges one line: can it be taken, how is it made, what does it cost.</summary>
public static class JudgeLine
{
    /// <summary>In place of a reason that is still to be typed; never booked.</summary>
    private const string ReasonToCome = "still to come";

    /// <summary>Judges.</summary>
    public static JudgedLine Of(LineInput line, ShopFacts shop, bool rush, string? group)
    {
        if (LineFaults.NoReason(line) is { } reason)
            return Of(line with { PriceReason = ReasonToCome }, shop, rush, group).With(reason);
        var faults = LineFaults.Of(line).ToList();
        var material = shop.Settings.Material(line.Piece.Material);
        if (material.Key != line.Piece.Material)
            faults.Add(new Refusal("material-missing", "This material is not in the workshop’s list.", "material"));
        if (!ShopFacts.Suits(line.Finish, material))
            faults.Add(new Refusal("finish-material", "Behind glass is a finish for glass only.", "finish"));
        if (line.Finish == Finish.BehindGlass && line.Piece.Form == Form.Cylinder)
            faults.Add(new Refusal("finish-form", "Behind glass is a finish for flat glass only.", "finish"));
        var recipe = shop.RecipeFor(line.Finish, material);
        if (recipe is null)
            faults.Add(new Refusal("no-recipe", "The workshop has no recipe for this finish on this material.", "finish"));
        if (faults.Count > 0 || recipe is null)
            return new JudgedLine(recipe, [], new LineQuote(Verdict.TestPiece, "", [], null, faults));
        if (TooLarge(line.Piece, shop.Sizes) is { } large)
            return new JudgedLine(recipe, [], new LineQuote(Verdict.Refuse, large.Text, [large.Text], null, [large]));
        var verdict = Suited(line, recipe, material, shop);
        if (!verdict.IsOk)
            return new JudgedLine(recipe, [], new LineQuote(Verdict.Refuse, "", [], null, verdict.Refusals));
        return Priced(line, shop, (rush, group), recipe, material, verdict.Value);
    }

    /// <summary>Why a piece cannot be taken in any finish, as far as size, material, form and hidden parts say; null: it can, or nobody knows yet.</summary>
    public static LineQuote? Barred(PieceDescription piece, ShopFacts shop)
    {
        if (TooLarge(piece, shop.Sizes) is { } large)
            return new LineQuote(Verdict.Refuse, large.Text, [large.Text], null, [large]);
        var material = shop.Settings.Material(piece.Material);
        var judged = shop.FinishesFor(material)
            .Select(f => Suited(new LineInput { Piece = piece, Finish = f }, shop.RecipeFor(f, material)!, material, shop))
            .ToList();
        if (judged.Count == 0 || !judged.TrueForAll(j => j.IsOk && j.Value.Value.Verdict == Verdict.Refuse))
            return null;
        var (verdict, why) = (judged[0].Value.Value, judged[0].Value.Why);
        var reasons = verdict.Findings.Where(f => f.Verdict == Verdict.Refuse).Select(f => f.Reason).ToList();
        return new LineQuote(Verdict.Refuse, verdict.Sentence, reasons, null, []) { Why = why };
    }

    /// <summary>What is said of a piece that no oven, or no press, takes; null: one does.</summary>
    public static Refusal? TooLarge(PieceDescription piece, IReadOnlyList<SizeReach> sizes)
    {
        if (SizeReach.Missed(piece, sizes) is not { } most)
            return null;
        if (piece.Form == Form.Cylinder)
            return TooLargeRound(piece, most);
        var (length, width, thick) = (Mm(most.Long), Mm(most.Short), Mm(most.Thick));
        return new Refusal(
            "piece-too-large",
            most.InOven
                ? $"This is larger than our oven takes: at most {length} × {width} mm, and {thick} mm thick."
                : $"This is larger than our press takes: at most {length} × {width} mm, and {thick} mm thick.",
            piece.Thickness > most.Thick ? "thickness" : "width"
        );
    }

    private static Refusal TooLargeRound(PieceDescription piece, SizeReach most)
    {
        var (widest, tallest) = (Mm(most.Short), Mm(most.Thick));
        return new Refusal(
            "piece-too-large",
            most.Least is { } least
                ? $"Our wrap press takes round pieces of {Mm(least)} to {widest} mm across, up to {tallest} mm high."
                : $"This is larger than our oven takes: round pieces of at most {widest} mm across, and {tallest} mm high.",
            piece.Height > most.Thick ? "height" : "thickness"
        );
    }

    private static string Mm(Length length) => length.Millimetres.ToString("0.#", CultureInfo.InvariantCulture);

    private static JudgedLine Priced(
        LineInput line,
        ShopFacts shop,
        (bool Rush, string? Group) terms,
        Recipe recipe,
        MaterialSheet material,
        Explained<SuitabilityVerdict> judged
    )
    {
        var (verdict, why) = (judged.Value, judged.Why);
        var reasons = verdict.Findings.Where(f => f.Verdict != Verdict.Take).Select(f => f.Reason).ToList();
        if (verdict.Verdict == Verdict.Refuse)
        {
            var no = new Refusal("refused", verdict.Sentence, "material");
            return new JudgedLine(recipe, [], new LineQuote(verdict.Verdict, verdict.Sentence, reasons, null, [no]) { Why = why });
        }
        var steps = FittedRecipe.For(recipe, line.Piece, shop.FittingFor(recipe, material, line.Piece));
        if (NotHere(steps.IsOk ? steps.Value : recipe.Steps, shop, line.Piece.Form) is { } tooHot)
            return new JudgedLine(recipe, [], new LineQuote(Verdict.Refuse, tooHot.Text, [tooHot.Text], null, [tooHot]));
        if (!steps.IsOk)
            return new JudgedLine(recipe, [], new LineQuote(Verdict.Refuse, NoWay.Text, [NoWay.Text], null, [NoWay, .. steps.Refusals]));
        var timed = shop.Settings.Timed(line.Finish, steps.Value);
        var price = PriceLine.Compute(line, timed, shop, terms.Rush, terms.Group);
        var quote = new LineQuote(verdict.Verdict, verdict.Sentence, reasons, price.IsOk ? price.Value : null, price.Refusals)
        {
            TestedOn = verdict.Tested is { } test ? shop.Settings.Day(test.At) : null,
            Why = why,
        };
        return new JudgedLine(recipe, price.IsOk ? timed : [], quote);
    }

    /// <summary>Said where no numbers come out for a piece; what they are follows for who works here.</summary>
    private static readonly Refusal NoWay = new("not-here", "We cannot make this look on this piece at the moment.", "finish");

    private static Refusal? NotHere(IReadOnlyList<RecipeStep> steps, ShopFacts shop, Form form) =>
        steps.Any(s => HeatReach.Missed(s, shop.Stations.Select(t => t.Settings), form) is not null)
            ? new Refusal(
                "no-heat",
                "Our ovens and presses do not reach the heat that this look needs, so we cannot make it at the moment.",
                "finish"
            )
            : null;

    private static Result<Explained<SuitabilityVerdict>> Suited(LineInput line, Recipe recipe, MaterialSheet material, ShopFacts shop)
    {
        var steps = FittedRecipe.StepsFor(recipe, material);
        double? Hottest(Func<StepKind, bool> kind) => steps.Where(s => kind(s.Kind)).Max(s => (double?)s.Celsius);
        return Suitability.Judge(
            material,
            Hottest(k => k.InOven()),
            Hottest(k => k == StepKind.Press),
            line.Piece.Form,
            line.Piece.IsOwn ? line.Piece.Hidden : HiddenParts.None,
            shop.HasWrapPress,
            (double)shop.Settings.Profile.Limits.OvershootKelvin,
            tests: shop.Settings.Tests
        );
    }
}

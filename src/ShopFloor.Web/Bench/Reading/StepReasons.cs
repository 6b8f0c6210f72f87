using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.TestPieces;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;

namespace ShopFloor.Web.Bench.Reading;

/// <summary>How one number of a step comes about.</summary>
/// <param name="Title">What it is about.</param>
/// <param name="Why">Inputs, formula, source, result by the settings of today.</param>
/// <param name="Booked">What the piece was booked with, where that is a number to compare.</param>
public sealed record StepReason(string Title, Explanation Why, string? Booked);

/// <summary>Computes a piece's step anew and says how: window, millilitres, cooling, press time, and why the material is taken.</summary>
public sealed class StepReasons(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>The reasons behind the numbers of a step and of the rest before it.</summary>
    public async Task<IReadOnlyList<StepReason>> ReadAsync(string code, int step, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        if (await Chosen.PieceAsync(context, Chosen.Clean(code), cancel) is not { } piece)
            return [];
        var line = await context
            .Orders.Where(o => o.Id == piece.Order)
            .SelectMany(o => o.Lines)
            .AsNoTracking()
            .FirstAsync(l => l.Id == piece.Line, cancel);
        var recipe = await context.Recipes.AsNoTracking().FirstOrDefaultAsync(r => r.Id == line.Recipe, cancel);
        var shop = await ShopFacts.LoadAsync(context, time.GetUtcNow(), cancel);
        if (recipe is null)
            return [];
        var material = shop.Settings.Material(line.Piece.Material);
        var fitted = FittedRecipe.Explained(recipe, line.Piece, shop.FittingFor(recipe, material, line.Piece));
        var steps = fitted.IsOk ? fitted.Value.Where(f => f.Step.Number == step || f.Step.Number == step - 1 && f.Step.Kind.IsRest()) : [];
        var reasons = steps.Where(f => f.Why is not null).Select(f => new StepReason(Title(f.Step), f.Why!, Booked(piece, f.Step.Number)));
        return [.. reasons, .. Suited(piece, line, material, shop, step)];
    }

    // Whether the material bears the heat matters where there is heat.
    private static IEnumerable<StepReason> Suited(Piece piece, OrderLine line, MaterialSheet material, ShopFacts shop, int step)
    {
        if (piece.Items.FirstOrDefault(i => i.Number == step)?.Kind.HasWindow() != true)
            yield break;
        var (cure, press) = TestHeat.Of(piece);
        var verdict = Suitability.Judge(
            material,
            cure,
            press,
            line.Piece.Form,
            line.Piece.IsOwn ? line.Piece.Hidden : HiddenParts.None,
            shop.HasWrapPress,
            (double)shop.Settings.Profile.Limits.OvershootKelvin,
            tests: shop.Settings.Tests
        );
        if (verdict.IsOk)
            yield return new StepReason("Whether the material bears it", verdict.Value.Why, null);
    }

    private static string Title(RecipeStep step) =>
        step.Kind switch
        {
            StepKind.Spray => "Amount for one piece",
            StepKind.Rest => "Cooling time",
            StepKind.Press => "Press time",
            _ => "Time in the oven",
        };

    private static string? Booked(Piece piece, int number) =>
        piece.Items.FirstOrDefault(i => i.Number == number)?.Settings switch
        {
            { Kind: StepKind.Spray } s => FormattableString.Invariant($"{s.Ml:0.#} ml"),
            { } s when s.Kind.HasWindow() || s.Kind.IsRest() => StepWords.Window(s.MinSeconds, s.MaxSeconds),
            _ => null,
        };
}

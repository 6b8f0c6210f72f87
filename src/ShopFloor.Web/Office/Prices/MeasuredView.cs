using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Yield;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Prices;

/// <summary>A step with its two times.</summary>
/// <param name="RecipeSeconds">What the recipe says, for its reference piece.</param>
/// <param name="MeasuredSeconds">What was measured for one piece.</param>
/// <param name="Used">Measurements that went in.</param>
/// <param name="LeftOut">Left out as mishaps.</param>
public sealed record MeasuredRow(Finish Finish, StepKind Kind, int? RecipeSeconds, decimal MeasuredSeconds, int Used, int LeftOut);

/// <summary>Losses of a finish.</summary>
/// <param name="Material">On which material; null: on all together.</param>
/// <param name="Percent">What prices count with; null: too few pieces, the loss of the finish counts, or the usual one.</param>
/// <param name="Likely">The share of good ones with the range it likely lies in.</param>
public sealed record LossRow(Finish Finish, string? Material, int Lost, int Pieces, decimal? Percent, LikelyShare Likely);

/// <summary>What was measured, beside what was estimated.</summary>
public sealed record MeasuredSheet(IReadOnlyList<MeasuredRow> Steps, IReadOnlyList<LossRow> Losses, bool IsUsed);

/// <summary>Reads it.</summary>
public sealed class MeasuredView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>As it holds now.</summary>
    public async Task<MeasuredSheet> LoadAsync(CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var settings = await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel);
        var recipes = RecipeChoice
            .Latest(await context.Recipes.AsNoTracking().Where(r => r.MaterialGroup == "").ToListAsync(cancel))
            .GroupBy(r => r.Finish)
            .ToDictionary(g => g.Key, g => g.OrderByDescending(r => r.EffectiveFrom).ThenByDescending(r => r.Version).First());
        int? Recipe(Finish finish, StepKind kind) =>
            recipes.GetValueOrDefault(finish)?.Steps.FirstOrDefault(s => s.Kind == kind)?.LengthSeconds;
        var measured = settings.Measured;
        return new MeasuredSheet(
            [.. measured.Steps.Select(s => new MeasuredRow(s.Finish, s.Kind, Recipe(s.Finish, s.Kind), s.Seconds, s.Used, s.LeftOut))],
            [.. measured.Losses.Select(l => Row(l, settings))],
            settings.Inputs.UseMeasured
        );
    }

    private static LossRow Row(MeasuredLoss loss, CurrentSettings settings) =>
        new(
            loss.Finish,
            loss.Material.Length == 0 ? null : settings.Material(loss.Material).Name,
            loss.Lost,
            loss.Pieces,
            loss.IsEnough ? loss.Chance * 100 : null,
            RejectRate.Likely(loss.Pieces - loss.Lost, loss.Pieces).Value.Value
        );
}

using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Recipes;

/// <summary>What ovens, presses and the room can give to the steps of a recipe.</summary>
internal static class RecipeReach
{
    /// <summary>The steps whose temperature no oven, or no press, can be set to, or no piece cools down to: nothing booked by them could be made.</summary>
    internal static async Task<IReadOnlyList<Refusal>> FaultsAsync(
        CommandWork work,
        IReadOnlyList<RecipeStep> steps,
        CancellationToken cancel
    )
    {
        var stations = await work.Context.Stations.AsNoTracking().Where(s => s.IsActive).ToListAsync(cancel);
        var room = (await CurrentSettings.LoadAsync(work.Context, work.Now, cancel)).Profile.RoomCelsius;
        return
        [
            .. steps.Select(s => Cold(s, HeatReach.Missed(s, stations.Select(t => t.Settings)))).OfType<Refusal>(),
            .. steps.Where(s => s.CoolToCelsius <= room).Select(s => Warm(s, room)),
        ];
    }

    private static Refusal Warm(RecipeStep step, decimal room) =>
        new(
            "room-too-warm",
            Text(
                $"Step {step.Number} waits until the piece has {step.CoolToCelsius:0.#} °C, but nothing gets colder than its room: {room:0.#} °C."
            ),
            Text($"step-{step.Number}-cool")
        );

    private static Refusal? Cold(RecipeStep step, HeatReach? reach)
    {
        if (reach is null)
            return null;
        var (kind, one) = step.Kind.InOven() ? ("oven", "an oven") : ("press", "a press");
        var why =
            step.Celsius > reach.Highest ? Text($"the hottest {kind} reaches {reach.Highest:0.#} °C")
            : step.Celsius < reach.Lowest ? Text($"the least that {one} here can hold is {reach.Lowest:0.#} °C")
            : Text($"no {kind} holds just that; they reach from {reach.Lowest:0.#} to {reach.Highest:0.#} °C");
        return new Refusal(
            "step-out-of-reach",
            Text($"Step {step.Number} cannot be made at {step.Celsius:0.#} °C: {why}."),
            Text($"step-{step.Number}-heat")
        );
    }

    private static string Text(FormattableString text) => FormattableString.Invariant(text);
}

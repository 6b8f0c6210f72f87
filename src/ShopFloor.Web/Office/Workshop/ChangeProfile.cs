using Microsoft.EntityFrameworkCore;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Prices;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Workshop;

/// <summary>Changes what the program knows of the workshop itself.</summary>
public sealed class ChangeProfile(CommandRunner runner) : IUseCase
{
    /// <summary>Changes it, or names every field that is wrong.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, WorkshopProfile profile, CancellationToken cancel = default) =>
        runner.RunAsync<WorkshopProfile, Done>(
            nameof(ChangeProfile),
            Allowed.Owner,
            asked,
            profile,
            async work =>
            {
                var faults = profile.Check().ToList();
                if (await RoomFaultAsync(work, profile.RoomCelsius, cancel) is { } warm)
                    faults.Add(warm);
                if (await ShownFaultAsync(work, profile.PricesIncludeTax, cancel) is { } shown)
                    faults.Add(shown);
                if (faults.Count > 0)
                    return Result<Done>.Refused(faults);
                await work.KeepAsync(SettingKeys.Profile, profile, cancel);
                await KeepPricesInAsync(work, profile.Currency, cancel);
                return default(Done);
            },
            cancel
        );

    /// <summary>Rates and rule that were saved follow the workshop's currency with the same numbers; in another one no price could be made any more.
    /// Shipped ones, and prices without a currency of their own, follow by themselves.</summary>
    private static async Task KeepPricesInAsync(CommandWork work, string currency, CancellationToken cancel)
    {
        var now = await CurrentSettings.LoadAsync(work.Context, work.Now, cancel);
        var isSaved = now.Versions.ContainsKey(SettingKeys.Rates) || now.Versions.ContainsKey(SettingKeys.PriceRule);
        if (isSaved && (now.Rates.Currency != currency || now.Rule.MinimumPerLine.Currency != currency))
            await ChangePrices.KeepAsync(work, now.Rates.In(currency), now.Rule.In(currency), cancel);
    }

    private static async Task<Refusal?> ShownFaultAsync(CommandWork work, bool withTax, CancellationToken cancel) =>
        (await CurrentSettings.LoadAsync(work.Context, work.Now, cancel)).Invoices.ShownFault(
            withTax,
            nameof(WorkshopProfile.PricesIncludeTax)
        );

    /// <summary>In a room as warm as a recipe's cooling is to end nothing could be booked by it any more.</summary>
    private static async Task<Refusal?> RoomFaultAsync(CommandWork work, decimal celsius, CancellationToken cancel)
    {
        if ((await CurrentSettings.LoadAsync(work.Context, work.Now, cancel)).Profile.RoomCelsius == celsius)
            return null;
        var recipes = await work.Context.Recipes.AsNoTracking().Where(r => r.EffectiveFrom <= work.Now).ToListAsync(cancel);
        var coolest = RecipeChoice
            .Latest(recipes)
            .GroupBy(r => (r.Finish, r.MaterialGroup))
            .Select(g => g.MaxBy(r => (r.EffectiveFrom, r.Version))!)
            .SelectMany(r => r.Steps.Where(s => s.CoolToCelsius <= celsius).Select(s => (r.Name, Celsius: s.CoolToCelsius!.Value)))
            .OrderBy(c => c.Celsius)
            .Select(c => string.Create(CultureInfo.InvariantCulture, $"“{c.Name}” lets pieces cool to {c.Celsius:0.#} °C"))
            .FirstOrDefault();
        return coolest is null
            ? null
            : new Refusal(
                "room-too-warm",
                $"{coolest}, which nothing reaches in a room as warm as this. Enter the room as it usually is, or let the recipe cool to more.",
                nameof(WorkshopProfile.RoomCelsius)
            );
    }
}

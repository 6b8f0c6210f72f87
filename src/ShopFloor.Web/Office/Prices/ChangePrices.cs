using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Pricing;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Prices;

/// <summary>Rates, rule and the other inputs of a price, as the owner wants them from now on.</summary>
public sealed record PricesInput(RateCard Rates, PriceRule Rule, PriceInputs Inputs);

/// <summary>Changes what prices are made of. Orders that were booked keep the price that was shown.</summary>
public sealed class ChangePrices(CommandRunner runner) : IUseCase
{
    /// <summary>Changes all three, or nothing when anything is wrong.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, PricesInput input, CancellationToken cancel = default) =>
        runner.RunAsync<PricesInput, Done>(
            nameof(ChangePrices),
            Allowed.Owner,
            asked,
            input,
            work => DecideAsync(work, input, cancel),
            cancel
        );

    private static async Task<Result<Done>> DecideAsync(CommandWork work, PricesInput input, CancellationToken cancel)
    {
        IReadOnlyList<Refusal> faults = [.. input.Rates.Check(), .. input.Rule.Check(), .. input.Inputs.Check()];
        if (faults.Count > 0)
            return Result<Done>.Refused(faults);
        await KeepAsync(work, input.Rates, input.Rule, cancel);
        await work.KeepAsync(SettingKeys.PriceInputs, input.Inputs, cancel);
        return default(Done);
    }

    /// <summary>Rates and rule hold from now on, under names of their own.</summary>
    internal static async Task KeepAsync(CommandWork work, RateCard rates, PriceRule rule, CancellationToken cancel)
    {
        var code = string.Create(CultureInfo.InvariantCulture, $"{work.Now.UtcDateTime:yyyyMMdd-HHmmss}");
        var day = DateOnly.FromDateTime(work.Now.UtcDateTime);
        await work.KeepAsync(SettingKeys.Rates, rates with { Code = $"rates-{code}", ValidFrom = day }, cancel);
        await work.KeepAsync(SettingKeys.PriceRule, rule with { Code = $"rule-{code}", ValidFrom = day }, cancel);
        work.Touch(Topic.Price, Guid.Empty);
    }
}

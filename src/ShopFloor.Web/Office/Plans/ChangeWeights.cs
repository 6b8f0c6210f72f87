using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Plans;

/// <summary>Changes what plans are judged by. The next plan is made with it; plans that were made keep what they were judged by.</summary>
public sealed class ChangeWeights(CommandRunner runner) : IUseCase
{
    /// <summary>Changes the weights, or names every one that is not possible.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, Weights weights, CancellationToken cancel = default) =>
        runner.RunAsync<Weights, Done>(
            nameof(ChangeWeights),
            Allowed.Owner,
            asked,
            weights,
            async work =>
            {
                if (WeightNumbers.Check(weights) is { Count: > 0 } faults)
                    return Result<Done>.Refused(faults);
                await work.KeepAsync(SettingKeys.Weights, weights, cancel);
                return default(Done);
            },
            cancel
        );
}

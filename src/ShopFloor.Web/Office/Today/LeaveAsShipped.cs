using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Today;

/// <summary>The owner has looked at what came with the program and finds it right.</summary>
public sealed class LeaveAsShipped(CommandRunner runner) : IUseCase
{
    /// <summary>Keeps that for one of <see cref="FirstStepKeys.MayStay"/>.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, string key, CancellationToken cancel = default) =>
        runner.RunAsync<string, Done>(
            nameof(LeaveAsShipped),
            Allowed.Owner,
            asked,
            key,
            async work =>
            {
                if (!FirstStepKeys.MayStay.Contains(key))
                    return new Refusal("step-unknown", "This has to be entered first.");
                var settings = await CurrentSettings.LoadAsync(work.Context, work.Now, cancel);
                await work.KeepAsync(
                    SettingKeys.LookedThrough,
                    (IReadOnlyList<string>)[.. settings.LookedThrough.Append(key).Distinct()],
                    cancel
                );
                return default(Done);
            },
            cancel
        );
}

using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Commands;
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
                var faults = profile.Check();
                if (faults.Count > 0)
                    return Result<Done>.Refused(faults);
                await work.KeepAsync(SettingKeys.Profile, profile, cancel);
                return default(Done);
            },
            cancel
        );
}

using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Materials;

/// <summary>A row of the material list as the owner wants it.</summary>
/// <param name="Sheet">The row.</param>
/// <param name="Seen">The row that the page showed; null: a new one.</param>
public sealed record MaterialInput(MaterialSheet Sheet, MaterialSheet? Seen);

/// <summary>Keeps a row of the material list; orders from then on are judged by it, and the audit list has what it was before.</summary>
public sealed class KeepMaterial(CommandRunner runner) : IUseCase
{
    /// <summary>Keeps it.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, MaterialInput input, CancellationToken cancel = default) =>
        runner.RunAsync<MaterialInput, Done>(
            nameof(KeepMaterial),
            Allowed.Owner,
            asked,
            input,
            work => DecideAsync(work, input, cancel),
            cancel
        );

    private static async Task<Result<Done>> DecideAsync(CommandWork work, MaterialInput input, CancellationToken cancel)
    {
        var faults = input.Sheet.Faults();
        if (faults.Count > 0)
            return Result<Done>.Refused(faults);
        var settings = await CurrentSettings.LoadAsync(work.Context, work.Now, cancel);
        var now = settings.Materials.GetValueOrDefault(input.Sheet.Key);
        if (input.Seen is null && now is not null)
            return new Refusal("key-taken", $"There is a material {input.Sheet.Key} already.", "key");
        if (input.Seen is not null && now != input.Seen)
            return new Refusal(
                "changed-meanwhile",
                $"Somebody else changed {input.Sheet.Name} meanwhile. Your entry is kept: look at what is new, then save again."
            );
        await work.KeepAsync(SettingKeys.MaterialPrefix + input.Sheet.Key, input.Sheet, cancel);
        work.Touch(Topic.Settings, Guid.Empty);
        return default(Done);
    }
}

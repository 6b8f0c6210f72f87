using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Office.Stock;

/// <summary>What the owner entered for a coating.</summary>
public sealed record CoatingInput(CoatingId Id, int SeenVersion, string Name, CoatingSettings Settings);

/// <summary>Changes a coating; what was before is kept in the audit list.</summary>
public sealed class ChangeCoating(CommandRunner runner) : IUseCase
{
    /// <summary>Changes it.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, CoatingInput input, CancellationToken cancel = default) =>
        runner.RunAsync<CoatingInput, Done>(
            nameof(ChangeCoating),
            Allowed.Owner,
            asked,
            input,
            work => DecideAsync(work, input, cancel),
            cancel
        );

    private static async Task<Result<Done>> DecideAsync(CommandWork work, CoatingInput input, CancellationToken cancel)
    {
        var coating = await work.Context.Coatings.FirstOrDefaultAsync(c => c.Id == input.Id, cancel);
        if (coating is null)
            return new Refusal("coating-missing", "This coating is no longer there.");
        if (CommandWork.IfChanged(input.SeenVersion, coating.Version, coating.Name) is { } changed)
            return changed;
        var before = JsonSerializer.Serialize(coating.Settings, JsonForms.Default);
        var done = coating.Change(input.Name, input.Settings);
        if (!done.IsOk)
            return done;
        work.Audit("coating changed", coating.Code, before, JsonSerializer.Serialize(coating.Settings, JsonForms.Default));
        work.Touch(Topic.Stock, coating.Id.Value);
        work.Touch(Topic.Price, Guid.Empty);
        return default(Done);
    }
}

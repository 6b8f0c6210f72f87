using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;
using ShopFloor.Web.Shared.Uploads;

namespace ShopFloor.Web.Office.Stock;

/// <summary>A safety data sheet that was sent.</summary>
/// <param name="Can">Any can of the lot.</param>
/// <param name="File">Its id among the incoming files.</param>
/// <param name="Name">Its name on the sender's device.</param>
public sealed record SheetInput(CanId Can, Guid File, string Name);

/// <summary>Keeps the safety data sheet of a can's lot; an older one of the same lot is replaced.</summary>
public sealed class KeepSafetySheet(CommandRunner runner, IncomingFiles files) : IUseCase
{
    /// <summary>Keeps it.</summary>
    public async Task<Result<Done>> RunAsync(Asked asked, SheetInput input, CancellationToken cancel = default)
    {
        var kept = await runner.RunAsync<SheetInput, Done>(
            nameof(KeepSafetySheet),
            Allowed.Owner,
            asked,
            input,
            work => DecideAsync(work, input, cancel),
            cancel
        );
        if (kept.IsOk)
            files.Drop(input.File);
        return kept;
    }

    private async Task<Result<Done>> DecideAsync(CommandWork work, SheetInput input, CancellationToken cancel)
    {
        var can = await work.Context.Cans.FirstOrDefaultAsync(c => c.Id == input.Can, cancel);
        if (can is null)
            return new Refusal("can-unknown", "This can is no longer there.");
        var opened = files.Open(input.File);
        if (!opened.IsOk)
            return Result<Done>.Refused(opened.Refusals);
        await using var stream = opened.Value;
        if (stream.Length > SafetySheet.MostBytes)
            return new Refusal("file-large", "A safety data sheet has at most 10 MB.", "sheet");
        var content = new byte[stream.Length];
        await stream.ReadExactlyAsync(content, cancel);
        var sheet = SafetySheet.Create(
            new EntryId(Guid.CreateVersion7()),
            (can.Coating, can.Lot),
            input.Name,
            content,
            (work.Now, work.By)
        );
        if (!sheet.IsOk)
            return Result<Done>.Refused(sheet.Refusals);
        await work.Context.SafetySheets.Where(s => s.Coating == can.Coating && s.Lot == can.Lot).ExecuteDeleteAsync(cancel);
        work.Context.SafetySheets.Add(sheet.Value);
        work.Touch(Topic.Stock, can.Id.Value);
        return default(Done);
    }
}

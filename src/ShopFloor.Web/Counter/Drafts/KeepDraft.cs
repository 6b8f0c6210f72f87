using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Counter.Drafts;

/// <summary>What to keep.</summary>
/// <param name="Draft">Which draft.</param>
/// <param name="SeenEdit">The change it builds on.</param>
/// <param name="Entry">What stands on the screen now.</param>
/// <param name="Step">Where the person is.</param>
/// <param name="Taken">Pictures that the screen has taken over from those that came in.</param>
public sealed record KeepDraftInput(Guid Draft, int SeenEdit, OrderEntry Entry, CounterStep Step, IReadOnlyList<PictureId> Taken);

/// <summary>Keeps what somebody has typed so far.</summary>
public sealed class KeepDraft(CommandRunner runner) : IUseCase
{
    /// <summary>Keeps it; refused when another window changed the same draft meanwhile.</summary>
    /// <returns>The number of the change.</returns>
    public Task<Result<int>> RunAsync(Asked asked, KeepDraftInput input, CancellationToken cancel = default) =>
        runner.RunAsync(nameof(KeepDraft), Allowed.Counter, asked, input, work => KeepAsync(work, input, cancel), cancel);

    private static async Task<Result<int>> KeepAsync(CommandWork work, KeepDraftInput input, CancellationToken cancel)
    {
        var found = await DraftAccess.FindAsync(work, input.Draft, cancel);
        if (!found.IsOk)
            return Result<int>.Refused(found.Refusals);
        var kept = KeptOrder.Of(found.Value);
        if (kept.Edit != input.SeenEdit)
            return new Refusal("draft-elsewhere", "This order was changed in another window. Open it again to see what is there.");
        var next = kept with
        {
            Edit = kept.Edit + 1,
            Entry = input.Entry with { BookCommand = kept.Entry.BookCommand },
            Incoming = [.. kept.Incoming.Where(p => !input.Taken.Contains(p.Picture.Id))],
        };
        work.Touch(Topic.Draft, input.Draft);
        return found.Value.Keep(next.ToJson(), input.Step.Word(), work.Now).Then(_ => Result<int>.Ok(next.Edit));
    }
}

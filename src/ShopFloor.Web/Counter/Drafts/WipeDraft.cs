using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Counter.Drafts;

/// <summary>Puts a draft away for good: nobody at the Counter sees it again, nor the ticket of the order it became.</summary>
public sealed class WipeDraft(CommandRunner runner) : IUseCase
{
    /// <summary>Wipes it. Wiping what is gone already is no fault: the idle clock and a finger may both ask.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, Guid draft, CancellationToken cancel = default) =>
        runner.RunAsync<Guid, Done>(
            nameof(WipeDraft),
            Allowed.Counter,
            asked,
            draft,
            async work =>
            {
                var found = await DraftAccess.FindAsync(work, draft, cancel);
                if (found.IsOk)
                {
                    found.Value.Wipe(work.Now);
                    work.Touch(Topic.Draft, draft);
                }
                return default(Done);
            },
            cancel
        );
}

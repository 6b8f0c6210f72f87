using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Counter.Drafts;

/// <summary>Puts a draft away for good: nobody at the Counter sees it again, nor the ticket of the order it became. One that was offered
/// in writing stays for who works here.</summary>
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
                    if (await IsOfferedAsync(work, found.Value, cancel))
                        found.Value.PutBy();
                    else
                        found.Value.Wipe(work.Now);
                    work.Touch(Topic.Draft, draft);
                }
                return default(Done);
            },
            cancel
        );

    /// <summary>What was offered in writing binds the workshop until its day is over, whoever leaves the tablet meanwhile.</summary>
    private static async Task<bool> IsOfferedAsync(CommandWork work, Draft draft, CancellationToken cancel) =>
        draft.BecameOrder is null
        && KeptOrder.Of(draft).Offer is { } offer
        && offer.Until >= (await CurrentSettings.LoadAsync(work.Context, work.Now, cancel)).Day(work.Now);
}

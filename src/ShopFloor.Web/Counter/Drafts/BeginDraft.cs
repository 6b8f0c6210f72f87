using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Counter.Drafts;

/// <summary>Somebody begins an order.</summary>
public sealed class BeginDraft(CommandRunner runner) : IUseCase
{
    /// <summary>Makes a draft.</summary>
    /// <param name="asked">Who asks.</param>
    /// <param name="entry">What it begins with; its booking command is made here.</param>
    /// <param name="step">Where it begins.</param>
    /// <param name="cancel">Ends the wait.</param>
    /// <returns>The draft's id.</returns>
    public Task<Result<Guid>> RunAsync(Asked asked, OrderEntry entry, CounterStep step, CancellationToken cancel = default) =>
        runner.RunAsync(
            nameof(BeginDraft),
            Allowed.Counter,
            asked,
            new { entry, step },
            work =>
            {
                var draft = new Draft(Guid.CreateVersion7(), KeptOrder.Kind, work.By, work.Now);
                var kept = new KeptOrder(0, entry with { BookCommand = Guid.CreateVersion7() }, []);
                var done = draft.Keep(kept.ToJson(), step.Word(), work.Now);
                if (!done.IsOk)
                    return Task.FromResult(Result<Guid>.Refused(done.Refusals));
                work.Context.Drafts.Add(draft);
                work.Touch(Topic.Draft, draft.Id);
                return Task.FromResult(Result<Guid>.Ok(draft.Id));
            },
            cancel
        );
}

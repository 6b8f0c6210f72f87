using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Pictures;

namespace ShopFloor.Web.Office.Duties;

/// <summary>Takes away what is over its time. Runs by itself; the owner sees beforehand what it would take.</summary>
public sealed class ClearOldData(CommandRunner runner, KeepingView view, JournalPhotos photos, PictureFolder pictures) : IUseCase
{
    private static readonly Refusal NothingDue = new("nothing-due", "Nothing is over its time.");

    private sealed record Nothing;

    /// <summary>Does it.</summary>
    /// <returns>How many things went; a refusal when there was nothing.</returns>
    public async Task<Result<int>> RunAsync(CancellationToken cancel = default)
    {
        // Looking reads much and finds little: nobody at the Bench shall wait for it.
        var ids = await view.FindAsync(cancel);
        if (ids.IsNothing)
            return NothingDue;
        List<PictureId> gone = [];
        var done = await runner.RunAsync<Nothing, int>(
            nameof(ClearOldData),
            Allowed.System,
            Asked.BySystem(),
            new Nothing(),
            async work =>
            {
                var decided = await DecideAsync(work, ids, gone, cancel);
                pictures.Begin(gone);
                return decided;
            },
            cancel
        );
        // Files go after the commit: a file without a row is litter, a row without its file would be a lost picture.
        if (done.IsOk)
            foreach (var picture in gone)
                pictures.Delete(picture);
        return done;
    }

    private async Task<Result<int>> DecideAsync(CommandWork work, KeepingIds ids, List<PictureId> gone, CancellationToken cancel)
    {
        var finds = await KeepingFinds.LoadAsync(work.Context, photos, ids, work.Now, cancel);
        var count = finds.Lines().Sum(l => l.Count);
        if (count == 0)
            return NothingDue;
        work.Context.Drafts.RemoveRange(finds.Drafts);
        foreach (var order in finds.Pictured)
            order.ForgetPictures();
        KeptPicture[] going = [.. finds.Personal.Union(finds.Unnamed)];
        gone.AddRange(going.Select(p => p.Id));
        work.Context.Pictures.RemoveRange(going);
        foreach (var order in finds.Linked)
            order.CloseLink();
        foreach (var message in finds.Messages)
            message.Forget();
        foreach (var erasure in finds.Documented)
        {
            await ErasedDocuments.EraseAsync(work.Context, erasure.Customer, cancel);
            erasure.DocumentsGone(work.Now);
            work.NoteSafety("invoices of an erased customer lose the name", erasure.Customer.Value.ToString());
        }
        work.Context.Commands.RemoveRange(finds.Commands);
        work.Audit(
            "old data cleared",
            "retention",
            "",
            string.Join("; ", finds.Lines().Where(l => l.Count > 0).Select(l => $"{l.What}: {l.Count}"))
        );
        return count;
    }
}

/// <summary>Says what would go now, and touches nothing.</summary>
public sealed class KeepingView(IDbContextFactory<ShopContext> contexts, JournalPhotos photos, TimeProvider time) : IPageView
{
    /// <summary>Counts by kind.</summary>
    public async Task<IReadOnlyList<KeepingLine>> LoadAsync(CancellationToken cancel = default) => (await FindAsync(cancel)).Lines();

    internal async Task<KeepingIds> FindAsync(CancellationToken cancel)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        return await KeepingIds.LoadAsync(context, photos, time.GetUtcNow(), cancel);
    }
}

using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Pictures;

namespace ShopFloor.Web.Office.Duties;

/// <summary>Takes away what is over its time. Runs by itself; the owner sees beforehand what it would take.</summary>
public sealed class ClearOldData(CommandRunner runner, KeepingView view, PictureFolder pictures) : IUseCase
{
    private static readonly Refusal NothingDue = new("nothing-due", "Nothing is over its time.");

    private sealed record Nothing;

    /// <summary>Does it.</summary>
    /// <returns>How many things went; a refusal when there was nothing.</returns>
    public async Task<Result<int>> RunAsync(CancellationToken cancel = default)
    {
        // Looking reads much and finds little: nobody at the Bench shall wait for it.
        if ((await view.LoadAsync(cancel)).All(l => l.Count == 0))
            return NothingDue;
        List<PictureId> gone = [];
        var done = await runner.RunAsync<Nothing, int>(
            nameof(ClearOldData),
            Allowed.System,
            Asked.BySystem(),
            new Nothing(),
            async work =>
            {
                var decided = await DecideAsync(work, gone, cancel);
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

    private static async Task<Result<int>> DecideAsync(CommandWork work, List<PictureId> gone, CancellationToken cancel)
    {
        var finds = await KeepingFinds.LoadAsync(work.Context, work.Now, cancel);
        var count = finds.Lines().Sum(l => l.Count);
        if (count == 0)
            return NothingDue;
        work.Context.Drafts.RemoveRange(finds.Drafts);
        gone.AddRange(await PersonalPictures.TakeAsync(work.Context, finds.Pictured, cancel));
        foreach (var order in finds.Pictured)
            order.ForgetPictures();
        gone.AddRange(finds.Unnamed.Select(p => p.Id));
        work.Context.Pictures.RemoveRange(finds.Unnamed);
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
public sealed class KeepingView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>Counts by kind.</summary>
    public async Task<IReadOnlyList<KeepingLine>> LoadAsync(CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        return (await KeepingFinds.LoadAsync(context, time.GetUtcNow(), cancel)).Lines();
    }
}

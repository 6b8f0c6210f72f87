using Microsoft.EntityFrameworkCore;
using ShopFloor.Documents.Imaging;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Duties;

namespace ShopFloor.Web.Api;

/// <summary>Where a sent picture belongs.</summary>
/// <param name="Order">The order's number.</param>
/// <param name="Line">The line's number.</param>
/// <param name="Tag">The order's tag as the caller saw it; <c>*</c> for whatever it is now.</param>
/// <param name="RightsAccepted">The customer says that the picture may be used.</param>
public sealed record PicturePlace(int Order, int Line, string Tag, bool RightsAccepted)
{
    /// <summary>What the file was called where it came from.</summary>
    public string Name { get; init; } = "sent by another program";
}

/// <summary>Puts a picture on a line of a booked order, in place of an earlier one, until it is printed.</summary>
public sealed class PutPicture(CommandRunner runner, PictureFolder folder, PictureDoor door) : IUseCase
{
    private const int ScreenSide = 1600;

    private sealed record Fingerprint(PicturePlace Place, string Sha256);

    /// <summary>Keeps it; the answer names the kept picture.</summary>
    public async Task<Result<PictureId>> RunAsync(
        Asked asked,
        PicturePlace place,
        AdmittedPicture picture,
        CancellationToken cancel = default
    )
    {
        var screen = await door.CopyAsync(picture.Clean, new CopySpec(ScreenSide, CopyFormat.Webp, 88), cancel);
        if (!screen.IsOk)
            return Result<PictureId>.Refused(screen.Refusals);
        var sent = new NewPicture(folder, picture, place.Name);
        return await sent.KeepAsync(screen.Value, Save, id => id, cancel);
        Task<Result<PictureId>> Save() =>
            runner.RunAsync(
                nameof(PutPicture),
                Allowed.Counter,
                asked,
                new Fingerprint(place, picture.Sha256),
                work => DecideAsync(work, place, sent, cancel),
                cancel
            );
    }

    private static async Task<Result<PictureId>> DecideAsync(
        CommandWork work,
        PicturePlace place,
        NewPicture picture,
        CancellationToken cancel
    )
    {
        if (await work.Context.Orders.FirstOrDefaultAsync(o => o.Number == place.Order, cancel) is not { } order)
            return new Refusal("not-found", "There is no such order.");
        if (place.Tag != "*" && place.Tag != await OrderStatusView.TagAsync(work.Context, order, cancel))
            return new Refusal("changed-meanwhile", "The order has changed since you read it. Read it again, then decide.");
        if (!place.RightsAccepted)
            return new Refusal(
                "rights-open",
                "Say rightsAccepted=true: the customer confirms that the picture may be used.",
                "rightsAccepted"
            );
        var before = order.Lines.FirstOrDefault(l => l.Number == place.Line)?.Picture;
        var rights = new Agreement("picture rights", BookOrder.WordingVersion, order.Language, work.Now, work.By);
        var done = order.Illustrate(place.Line, picture.Id, rights);
        if (!done.IsOk)
            return Result<PictureId>.Refused(done.Refusals);
        work.Context.Pictures.Add(picture.Row(work.Now));
        work.Touch(Topic.Order, order.Id.Value);
        picture.Before = await TakeAwayAsync(work, before, cancel);
        return picture.Id;
    }

    /// <summary>The earlier picture goes, unless another line or an entry that repeats the order shows it too.</summary>
    private static async Task<PictureId?> TakeAwayAsync(CommandWork work, PictureId? before, CancellationToken cancel)
    {
        if (before is not { } old || await work.Context.Orders.SelectMany(o => o.Lines).CountAsync(l => l.Picture == old, cancel) > 1)
            return null;
        if ((await NamedPictures.InOpenDraftsAsync(work.Context, cancel)).Contains(old))
            return null;
        work.Context.Pictures.RemoveRange(await work.Context.Pictures.Where(p => p.Id == old).ToListAsync(cancel));
        return old;
    }
}

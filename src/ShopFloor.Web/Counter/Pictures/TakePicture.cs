using System.Security.Cryptography;
using System.Text;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Documents.Imaging;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Drafts;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Counter.Pictures;

/// <summary>Where an upload belongs.</summary>
/// <param name="Draft">The draft.</param>
/// <param name="Line">Index of its line.</param>
/// <param name="IsPhoto">True: a photograph of the piece's condition.</param>
/// <param name="Token">The secret of a phone; null for a signed-in device.</param>
public sealed record UploadTarget(Guid Draft, int Line, bool IsPhoto, string? Token);

/// <summary>Puts a picture that came through the door on a draft.</summary>
public sealed class TakePicture(CommandRunner runner, PictureFolder folder, PictureDoor door, IDbContextFactory<ShopContext> contexts)
    : IUseCase
{
    /// <summary>Most pictures on one draft.</summary>
    public const int Most = 20;

    /// <summary>Pixels of the longer side of the copy for screens.</summary>
    private const int ScreenSide = 1600;

    private static readonly Allowed DevicesAndPhones = new(Allowed.Counter.Roles, Anyone: true);

    /// <summary>Whether this sender may put a picture there; asked before a byte of it is read.</summary>
    public async Task<Refusal?> RefuseAsync(Asked asked, UploadTarget target, CancellationToken cancel)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var draft = await FindAsync(context, target, asked.Name, cancel);
        return draft.IsOk ? FullOf(KeptOrder.Of(draft.Value), target) : draft.Refusals[0];
    }

    /// <summary>Keeps the picture. Sending the same one again with the same command id changes nothing.</summary>
    public async Task<Result<IncomingPicture>> RunAsync(
        Asked asked,
        UploadTarget target,
        AdmittedPicture admitted,
        string name,
        CancellationToken cancel = default
    )
    {
        var screen = await door.CopyAsync(admitted.Clean, new CopySpec(ScreenSide, CopyFormat.Webp, 88), cancel);
        if (!screen.IsOk)
            return Result<IncomingPicture>.Refused(screen.Refusals);
        var sent = new NewPicture(folder, admitted, name);
        // The secret is no part of what the command keeps.
        var fingerprint = new
        {
            target.Draft,
            target.Line,
            target.IsPhoto,
            admitted.Sha256,
        };
        return await sent.KeepAsync(screen.Value, Save, taken => taken.Picture.Id, cancel);
        Task<Result<IncomingPicture>> Save() =>
            runner.RunAsync(
                nameof(TakePicture),
                DevicesAndPhones,
                asked,
                fingerprint,
                work => DecideAsync(work, target, sent.Row(work.Now), admitted.Notes, cancel),
                cancel
            );
    }

    private static async Task<Result<IncomingPicture>> DecideAsync(
        CommandWork work,
        UploadTarget target,
        KeptPicture picture,
        IReadOnlyList<string> notes,
        CancellationToken cancel
    )
    {
        var draft = await FindAsync(work.Context, target, work.By, cancel);
        if (!draft.IsOk)
            return Result<IncomingPicture>.Refused(draft.Refusals);
        var kept = KeptOrder.Of(draft.Value);
        if (FullOf(kept, target) is { } full)
            return full;
        var entry = new PictureEntry(picture.Id, picture.WidthPixels, picture.HeightPixels, picture.Name);
        var incoming = new IncomingPicture(entry, target.Line, target.IsPhoto, notes);
        work.Context.Pictures.Add(picture);
        work.Touch(Topic.Draft, target.Draft);
        var next = kept with { Incoming = [.. kept.Incoming, incoming] };
        return draft.Value.Keep(next.ToJson(), draft.Value.Step, work.Now).Then(_ => Result<IncomingPicture>.Ok(incoming));
    }

    private static Refusal? FullOf(KeptOrder kept, UploadTarget target)
    {
        if (target.Line < 0 || target.Line >= kept.Entry.Lines.Count)
            return new Refusal("line-gone", "This line was taken out meanwhile.");
        return kept.Pictures.Count() < Most
            ? null
            : new Refusal("pictures-many", "There are 20 pictures already: this is the most one order takes.");
    }

    private static async Task<Result<Draft>> FindAsync(ShopContext context, UploadTarget target, string by, CancellationToken cancel)
    {
        if (target.Token is not { } token)
            return await DraftAccess.FindAsync(context, target.Draft, by, cancel);
        var hash = HashOf(token);
        var draft = await context.Drafts.SingleOrDefaultAsync(d => d.Id == target.Draft && d.UploadTokenHash == hash, cancel);
        return draft is { WipedAt: null, BecameOrder: null } ? draft : PhoneUpload.Gone;
    }

    /// <summary>What is kept of a secret.</summary>
    internal static string HashOf(string token) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(token)));
}

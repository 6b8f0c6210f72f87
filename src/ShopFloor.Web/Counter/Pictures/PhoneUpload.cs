using System.Security.Cryptography;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Drafts;

namespace ShopFloor.Web.Counter.Pictures;

/// <summary>A draft that a phone may add a picture to.</summary>
/// <param name="Draft">Which.</param>
/// <param name="Line">The line for which the phone was shown its code.</param>
public sealed record PhoneTarget(Guid Draft, int Line);

/// <summary>Finds the draft of a phone's secret link.</summary>
public sealed class PhoneUpload(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>A link is good for two hours after the draft was last touched.</summary>
    private static readonly TimeSpan Life = TimeSpan.FromHours(2);

    internal static Refusal Gone => new("link-gone", "This link is no longer good. Show a new code on the tablet and scan it.");

    /// <summary>The draft, or a refusal that tells nothing.</summary>
    public async Task<Result<PhoneTarget>> RunAsync(string token, CancellationToken cancel = default)
    {
        if (token.Length is < 20 or > 100)
            return Gone;
        var hash = TakePicture.HashOf(token);
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var draft = await context.Drafts.AsNoTracking().FirstOrDefaultAsync(d => d.UploadTokenHash == hash, cancel);
        if (draft is not { WipedAt: null, BecameOrder: null } || draft.ChangedAt + Life < time.GetUtcNow())
            return Gone;
        var entry = KeptOrder.Of(draft).Entry;
        var line = entry.PhoneAt ?? entry.At;
        return line < 0 ? Gone : new PhoneTarget(draft.Id, line);
    }
}

/// <summary>Gives a draft a new secret for a phone; the one before is no longer good.</summary>
public sealed class AllowPhone(CommandRunner runner) : IUseCase
{
    /// <summary>Makes the secret: 192 random bits. Only its hash is kept.</summary>
    public async Task<Result<string>> RunAsync(Asked asked, Guid draft, CancellationToken cancel = default)
    {
        var token = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(24));
        var done = await runner.RunAsync<Guid, Done>(
            nameof(AllowPhone),
            Allowed.Counter,
            asked,
            draft,
            async work =>
            {
                var found = await DraftAccess.FindAsync(work, draft, cancel);
                if (!found.IsOk)
                    return Result<Done>.Refused(found.Refusals);
                found.Value.AllowUpload(TakePicture.HashOf(token));
                return default(Done);
            },
            cancel
        );
        return done.Then(_ => Result<string>.Ok(token));
    }
}

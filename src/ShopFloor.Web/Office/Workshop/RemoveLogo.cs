using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Pictures;

namespace ShopFloor.Web.Office.Workshop;

/// <summary>Takes the logo off; letters show the workshop's name in large type again. Papers that were issued keep theirs.</summary>
public sealed class RemoveLogo(CommandRunner runner, PictureFolder folder) : IUseCase
{
    private sealed record Nothing;

    /// <summary>Does it.</summary>
    public async Task<Result<Done>> RunAsync(Asked asked, CancellationToken cancel = default)
    {
        PictureId? before = null;
        var done = await runner.RunAsync<Nothing, Done>(
            nameof(RemoveLogo),
            Allowed.Owner,
            asked,
            new Nothing(),
            async work =>
            {
                before = await LogoChange.PutAsync(work, null, cancel);
                if (before is { } going)
                    folder.Begin(going);
                return before is null ? new Refusal("no-logo", "There is no logo to take off.", KeepLogo.Field) : default(Done);
            },
            cancel
        );
        if (done.IsOk && before is { } old)
            folder.Delete(old);
        return done;
    }
}

using ShopFloor.Documents.Imaging;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;

namespace ShopFloor.Web.Counter.Pictures;

/// <summary>
/// A picture that is to be kept. Its files are written before the database names it, and only what was saved decides which files go: its
/// own when nothing names it, those of an earlier one when it took that one's place.
/// </summary>
/// <param name="folder">Where the files are.</param>
/// <param name="picture">As it came through the door.</param>
/// <param name="name">What the file was called.</param>
internal sealed class NewPicture(PictureFolder folder, AdmittedPicture picture, string name)
{
    private const int LongestName = 200;

    /// <summary>Under which it is kept.</summary>
    public PictureId Id { get; } = new(Guid.CreateVersion7());

    /// <summary>The picture whose place it takes, when nothing else shows that one.</summary>
    public PictureId? Before
    {
        get;
        set
        {
            field = value;
            if (value is { } old)
                folder.Begin(old);
        }
    }

    /// <summary>What the database keeps of it.</summary>
    public KeptPicture Row(DateTimeOffset at) =>
        new(
            Id,
            picture.Header.Format.ToString().ToLowerInvariant(),
            picture.Header.WidthPx,
            picture.Header.HeightPx,
            picture.Original.Length,
            picture.Sha256,
            name.Length > LongestName ? name[..LongestName] : name,
            at
        );

    /// <summary>Writes the files, runs the command, and takes away the files that nothing names after it.</summary>
    /// <param name="screen">The copy for screens.</param>
    /// <param name="run">The command that saves <see cref="Row"/>.</param>
    /// <param name="kept">The picture that the command's answer names.</param>
    /// <param name="cancel">Ends the writing.</param>
    public async Task<Result<T>> KeepAsync<T>(
        ReadOnlyMemory<byte> screen,
        Func<Task<Result<T>>> run,
        Func<T, PictureId> kept,
        CancellationToken cancel
    )
    {
        folder.Begin(Id);
        try
        {
            await folder.SaveAsync(Id, picture, screen, cancel);
        }
        catch
        {
            // Nothing names it yet.
            folder.Drop(Id);
            throw;
        }
        // A fault in between leaves it marked: only the database knows then whether it was saved, and the sweep asks it.
        var result = await run();
        // Asked twice with the same command, the first picture stays and this one was not needed.
        if (!result.IsOk || kept(result.Value) != Id)
            folder.Delete(Id);
        else
            folder.Settle(Id);
        if (result.IsOk && Before is { } old)
            folder.Delete(old);
        return result;
    }
}

using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Web.Counter.Pictures;

namespace ShopFloor.Web.Background.Rounds;

/// <summary>Once a day, and at the first round after a start, takes away what uploads and erasures that were broken off left in the folder of pictures.</summary>
public sealed partial class SweepPictures(
    PictureFolder pictures,
    IDbContextFactory<ShopContext> contexts,
    TimeProvider time,
    ILogger<SweepPictures> logger
)
{
    // What is younger may still be on its way.
    private static readonly TimeSpan Life = TimeSpan.FromDays(1);
    private DoneAt? last;

    /// <summary>Does it when it is due.</summary>
    /// <returns>How many pictures without a row and how many files were taken away.</returns>
    public async Task<(int Pictures, int Files)> RunAsync(CancellationToken cancel = default)
    {
        var now = time.GetUtcNow();
        if (last?.Ago(time) < Life)
            return default;
        var left = pictures.LeftUnderway(now - Life);
        var gone = 0;
        await using (var context = await contexts.CreateDbContextAsync(cancel))
            foreach (var id in left)
                if (await context.Pictures.AnyAsync(p => p.Id == id, cancel))
                    pictures.Settle(id);
                else
                {
                    pictures.Delete(id);
                    gone++;
                }
        var files = pictures.SweepFiles(now - Life);
        last = DoneAt.Now(time);
        if (gone + files > 0)
            LogSwept(logger, gone, files);
        return (gone, files);
    }

    [LoggerMessage(
        Level = LogLevel.Information,
        Message = "{Pictures} pictures that nothing names and {Files} files that nothing needs were taken away"
    )]
    private static partial void LogSwept(ILogger logger, int pictures, int files);
}

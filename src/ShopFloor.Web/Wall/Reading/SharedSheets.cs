using System.Text.Json;

namespace ShopFloor.Web.Wall.Reading;

/// <summary>
/// What walls show, projected once for each choice of stations and each change, however many walls hang there. Parts that have not changed
/// are the same objects as before, so that no wall draws them again. Registered once.
/// </summary>
public sealed class SharedSheets(SharedWork shared, TimeProvider time)
{
    private readonly Lock gate = new();
    private readonly Dictionary<string, (WorkNow Work, Task<WallSheet> Sheet)> sheets = new(StringComparer.Ordinal);

    /// <summary>The sheet for a choice of stations.</summary>
    /// <param name="stations">Codes; empty: all.</param>
    public async Task<WallSheet> ReadAsync(IReadOnlyCollection<string> stations)
    {
        var work = await shared.ReadAsync();
        Task<WallSheet> sheet;
        lock (gate)
        {
            var key = string.Join(',', stations);
            // Addresses that nobody hangs on a wall any more are forgotten all at once.
            if (sheets.Count > 50)
                sheets.Clear();
            if (!sheets.TryGetValue(key, out var known) || known.Work != work)
                sheets[key] = known = (work, ProjectAsync(work, stations, known.Sheet));
            sheet = known.Sheet;
        }
        return await sheet;
    }

    private async Task<WallSheet> ProjectAsync(WorkNow work, IReadOnlyCollection<string> stations, Task<WallSheet>? before)
    {
        await Task.Yield();
        var now = WallSheet.Of(work, time.GetUtcNow(), stations);
        return before is { IsCompletedSuccessfully: true } ? now.Keeping(await before) : now;
    }
}

/// <summary>Keeps what has not changed.</summary>
internal static class Unchanged
{
    /// <summary>The part as it was before when it says the same; else the new one.</summary>
    internal static T Or<T>(T before, T now) => JsonSerializer.Serialize(before) == JsonSerializer.Serialize(now) ? before : now;
}

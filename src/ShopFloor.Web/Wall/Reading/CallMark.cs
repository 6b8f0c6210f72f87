using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Calls;

namespace ShopFloor.Web.Wall.Reading;

/// <summary>Where a call that is written down stands.</summary>
/// <param name="Id">Names it.</param>
/// <param name="Key">Names its cause.</param>
/// <param name="IsSeen">Somebody has said to be on it.</param>
/// <param name="By">Who, by name.</param>
/// <param name="PutOffUntil">Quiet until then, UTC.</param>
/// <param name="Reason">Why.</param>
public sealed record CallMark(Guid Id, string Key, bool IsSeen, string By, DateTimeOffset? PutOffUntil, string Reason)
{
    /// <summary>Where it stands at an instant.</summary>
    public CallState StateAt(DateTimeOffset at)
    {
        if (PutOffUntil is { } until)
            return at < until ? CallState.PutOff : CallState.Open;
        return IsSeen ? CallState.Seen : CallState.Open;
    }

    internal static async Task<IReadOnlyList<CallMark>> LoadAsync(ShopContext context)
    {
        var calls = await context.Calls.AsNoTracking().Where(c => c.ClearedAt == null).OrderBy(c => c.RaisedAt).ToListAsync();
        var names = calls.Exists(c => c.SeenBy is not null)
            ? await context.Users.ToDictionaryAsync(u => u.Id.ToString(), u => u.DisplayName)
            : [];
        return
        [
            .. calls.Select(c => new CallMark(
                c.Id,
                c.Key,
                c.SeenAt is not null,
                names.GetValueOrDefault(c.SeenBy ?? "") ?? "",
                c.PutOffUntil,
                c.Reason ?? ""
            )),
        ];
    }
}

using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;

namespace ShopFloor.Web.Security;

/// <summary>The session of the request at hand, for a worker who changes how they sign in.</summary>
public sealed class OwnSession(WorkerSignIn signIn, ShopContext context)
{
    /// <summary>It began lately: only then is a door opened or shut.</summary>
    public async Task<bool> IsNewAsync() => (await SessionEnd.LookAsync(signIn.Context)).IsNew;

    /// <summary>All sessions of the worker were ended: this one goes on, to the end that it had.</summary>
    public async Task GoOnAsync(Guid worker, CancellationToken cancel)
    {
        var now = await context.Users.SingleAsync(u => u.Id == worker, cancel);
        await context.Entry(now).ReloadAsync(cancel);
        await signIn.RefreshSignInAsync(now);
    }
}

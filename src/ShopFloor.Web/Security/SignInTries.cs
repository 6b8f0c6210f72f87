using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Security;

/// <summary>Counts the tries of a sign-in, by whatever it is tried. The caller has the write gate's turn.</summary>
public sealed partial class SignInTries(UserManager<Worker> users, ShopContext context, ILogger<SignInTries> logger)
{
    /// <summary>Takes over what the database says of the worker now.</summary>
    /// <returns>False when the sign-in is gone or was taken away.</returns>
    public async Task<bool> IsStillThereAsync(Worker worker, CancellationToken cancel)
    {
        await context.Entry(worker).ReloadAsync(cancel);
        return context.Entry(worker).State != EntityState.Detached && worker.IsActive;
    }

    /// <summary>One wrong try more; after the fifth the name rests.</summary>
    public Task CountWrongAsync(Worker worker) => WriteAsync(worker, users.AccessFailedAsync);

    /// <summary>A good try: those before count no more.</summary>
    public Task ForgetAsync(Worker worker) => WriteAsync(worker, users.ResetAccessFailedCountAsync);

    /// <summary>Writes what belongs to a try. Where the database cannot be written it is not: the limit of sign-ins by address holds all the same.</summary>
    public async Task WriteAsync(Worker worker, Func<Worker, Task<IdentityResult>> write)
    {
        try
        {
            var written = await write(worker);
            if (!written.Succeeded)
                LogNotCounted(logger, worker.Id, string.Join(' ', written.Errors.Select(e => e.Code)));
        }
        catch (Exception barred) when (CannotWrite.Of(barred) is { } why)
        {
            LogNotCounted(logger, worker.Id, why.Code);
        }
    }

    [LoggerMessage(Level = LogLevel.Error, Message = "The tries of {WorkerId} could not be counted: {Codes}")]
    private static partial void LogNotCounted(ILogger logger, Guid workerId, string codes);
}

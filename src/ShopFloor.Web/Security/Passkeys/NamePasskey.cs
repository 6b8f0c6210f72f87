using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Security.Passkeys;

/// <summary>Another name for a passkey of the worker who asks.</summary>
public sealed class NamePasskey(CommandRunner runner) : IUseCase
{
    /// <summary>Does it, or says what is wrong.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, NewPasskey wanted, CancellationToken cancel = default) =>
        runner.RunAsync<NewPasskey, Done>(
            nameof(NamePasskey),
            Allowed.Counter,
            asked,
            wanted,
            async work =>
            {
                var name = wanted.Name.Trim();
                if (PasskeyRules.Fault(name, "OtherName") is { } fault)
                    return fault;
                if (await PasskeyRules.FindAsync(work.Context, asked.Worker ?? Guid.Empty, wanted.Key, cancel) is not { } row)
                    return PasskeyRules.Gone;
                row.Value = StoredPasskey.Write(StoredPasskey.Read(row) with { Name = name });
                work.Touch(Live.Topic.Person, row.UserId);
                return default(Done);
            },
            cancel
        );
}

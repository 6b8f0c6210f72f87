using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Web.Api;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Office.Keys;

/// <summary>A key to be made.</summary>
/// <param name="Name">What it is for.</param>
/// <param name="Scopes">What it may do, at least one.</param>
public sealed record KeyInput(string Name, IReadOnlyList<string> Scopes);

/// <summary>A key that was made.</summary>
/// <param name="Secret">Shown this once; null when the command had been carried out before.</param>
public sealed record KeyMade(Guid Id, string? Secret);

/// <summary>Makes a key for another program, or the owner's own calendar link.</summary>
public sealed class MakeKey(CommandRunner runner) : IUseCase
{
    internal const string What = "key made";

    /// <summary>Does it. The secret is made outside the command, so that no list of commands ever holds it.</summary>
    public async Task<Result<KeyMade>> RunAsync(Asked asked, KeyInput input, CancellationToken cancel = default)
    {
        var (secret, ran) = (KeySecret.New(), false);
        var done = await runner.RunAsync<KeyInput, KeyMade>(
            nameof(MakeKey),
            Allowed.Owner,
            asked,
            input,
            work =>
            {
                ran = true;
                return Task.FromResult(Decide(work, asked, input, KeySecret.Hash(secret)));
            },
            cancel
        );
        return done.Then(made => Result<KeyMade>.Ok(made with { Secret = ran ? secret : null }));
    }

    private static Result<KeyMade> Decide(CommandWork work, Asked asked, KeyInput input, string hash)
    {
        var name = input.Name.Trim();
        if (name.Length is 0 or > 100)
            return new Refusal("key-name", "Say what the key is for, in at most 100 characters.", nameof(input.Name));
        if (
            input.Scopes.Count == 0
            || !(IsCalendar(input) || input.Scopes.All(s => ApiScopes.OfPrograms.Contains(s, StringComparer.Ordinal)))
        )
            return new Refusal("key-scopes", "Tick what the key may do.", nameof(input.Scopes));
        var key = new AccessKey(Guid.CreateVersion7(), name, hash, input.Scopes, asked.Worker ?? Guid.Empty, work.Now);
        work.Context.AccessKeys.Add(key);
        work.Audit(What, name, "", string.Join(", ", input.Scopes));
        work.NoteSafety(What, key.Id.ToString());
        work.Touch(Topic.Settings, key.Id);
        return new KeyMade(key.Id, null);
    }

    private static bool IsCalendar(KeyInput input) => input.Scopes is [ApiScopes.Calendar];
}

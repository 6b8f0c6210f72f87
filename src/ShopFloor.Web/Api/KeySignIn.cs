using System.Security.Claims;
using System.Text.Encodings.Web;
using Microsoft.AspNetCore.Authentication;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using ShopFloor.Data;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Secrets;

namespace ShopFloor.Web.Api;

/// <summary>Knows a caller by the key in its Authorization header.</summary>
public sealed partial class KeySignIn(
    IOptionsMonitor<AuthenticationSchemeOptions> options,
    ILoggerFactory logger,
    UrlEncoder encoder,
    IDbContextFactory<ShopContext> contexts,
    WriteGate gate,
    TimeProvider time,
    KnownKeys known,
    [FromKeyedServices(KeySignIn.SchemeName)] Misses misses
) : AuthenticationHandler<AuthenticationSchemeOptions>(options, logger, encoder)
{
    public const string SchemeName = "key";

    /// <summary>Keys in a minute that are none, after which an address waits; a good key from there is still known.</summary>
    public const int MostWrong = 10;

    private const string Bearer = "Bearer ";
    private TimeSpan? wait;

    /// <summary>Hash of the key that was sent, good or not; null: none was.</summary>
    internal static string? HashOf(HttpRequest request)
    {
        var header = request.Headers.Authorization.ToString();
        return header.StartsWith(Bearer, StringComparison.OrdinalIgnoreCase) ? KeySecret.Hash(header[Bearer.Length..].Trim()) : null;
    }

    protected override async Task<AuthenticateResult> HandleAuthenticateAsync()
    {
        if (HashOf(Request) is not { } hash)
            return AuthenticateResult.NoResult();
        await using var context = await contexts.CreateDbContextAsync(Context.RequestAborted);
        var key = await context.AccessKeys.FirstOrDefaultAsync(k => k.Hash == hash && k.RevokedAt == null, Context.RequestAborted);
        var isGood = key is not null && !key.Scopes.Contains(ApiScopes.Calendar, StringComparer.Ordinal);
        known.Note(hash, isGood);
        if (key is null || !isGood)
            return Unknown();
        if (key.Use(time.GetUtcNow()))
            await NoteUseAsync(context, key.Id);
        var claims = key.Scopes.Select(s => new Claim(ApiScopes.Claim, s)).Append(new Claim(ClaimTypes.NameIdentifier, key.Id.ToString()));
        return AuthenticateResult.Success(
            new AuthenticationTicket(new ClaimsPrincipal(new ClaimsIdentity(claims, SchemeName)), SchemeName)
        );
    }

    // A program that only reads is not turned away because its last use cannot be noted.
    private async Task NoteUseAsync(ShopContext context, Guid key)
    {
        using var turn = await gate.EnterAsync(Context.RequestAborted);
        try
        {
            await context.SaveChangesAsync(Context.RequestAborted);
        }
        catch (Exception barred) when (CannotWrite.Of(barred) is not null)
        {
            LogNotNoted(Logger, barred, key);
        }
    }

    // The key was looked for before: whoever has a good one shall not suffer from another program behind the same address.
    private AuthenticateResult Unknown()
    {
        wait = misses.WaitOf(Context);
        if (wait is null && misses.Note(Context))
            LogWaiting(Logger, MostWrong);
        return AuthenticateResult.Fail("unknown key");
    }

    protected override Task HandleChallengeAsync(AuthenticationProperties properties)
    {
        if (wait is { } still)
        {
            Response.Headers.RetryAfter = Math.Ceiling(still.TotalSeconds).ToString("0", CultureInfo.InvariantCulture);
            return Problems.TooManyWrong.ExecuteAsync(Context);
        }
        Response.Headers.WWWAuthenticate = "Bearer";
        return Problems.NoKey.ExecuteAsync(Context);
    }

    protected override Task HandleForbiddenAsync(AuthenticationProperties properties) => Problems.NoScope.ExecuteAsync(Context);

    [LoggerMessage(Level = LogLevel.Warning, Message = "An address sent {Count} wrong keys to the API within a minute and now waits")]
    private static partial void LogWaiting(ILogger logger, int count);

    [LoggerMessage(Level = LogLevel.Error, Message = "The last use of key {Key} could not be noted")]
    private static partial void LogNotNoted(ILogger logger, Exception barred, Guid key);
}

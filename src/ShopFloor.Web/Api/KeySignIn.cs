using System.Security.Claims;
using System.Text.Encodings.Web;
using Microsoft.AspNetCore.Authentication;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using ShopFloor.Data;

namespace ShopFloor.Web.Api;

/// <summary>Knows a caller by the key in its Authorization header.</summary>
public sealed class KeySignIn(
    IOptionsMonitor<AuthenticationSchemeOptions> options,
    ILoggerFactory logger,
    UrlEncoder encoder,
    IDbContextFactory<ShopContext> contexts,
    WriteGate gate,
    TimeProvider time
) : AuthenticationHandler<AuthenticationSchemeOptions>(options, logger, encoder)
{
    public const string SchemeName = "key";
    private const string Bearer = "Bearer ";

    protected override async Task<AuthenticateResult> HandleAuthenticateAsync()
    {
        var header = Request.Headers.Authorization.ToString();
        if (!header.StartsWith(Bearer, StringComparison.OrdinalIgnoreCase))
            return AuthenticateResult.NoResult();
        var hash = KeySecret.Hash(header[Bearer.Length..].Trim());
        await using var context = await contexts.CreateDbContextAsync(Context.RequestAborted);
        var key = await context.AccessKeys.FirstOrDefaultAsync(k => k.Hash == hash && k.RevokedAt == null, Context.RequestAborted);
        if (key is null || key.Scopes.Contains(ApiScopes.Calendar, StringComparer.Ordinal))
            return AuthenticateResult.Fail("unknown key");
        if (key.Use(time.GetUtcNow()))
            using (await gate.EnterAsync(Context.RequestAborted))
                await context.SaveChangesAsync(Context.RequestAborted);
        var claims = key.Scopes.Select(s => new Claim(ApiScopes.Claim, s)).Append(new Claim(ClaimTypes.NameIdentifier, key.Id.ToString()));
        return AuthenticateResult.Success(
            new AuthenticationTicket(new ClaimsPrincipal(new ClaimsIdentity(claims, SchemeName)), SchemeName)
        );
    }

    protected override Task HandleChallengeAsync(AuthenticationProperties properties)
    {
        Response.Headers.WWWAuthenticate = "Bearer";
        return Problems.NoKey.ExecuteAsync(Context);
    }

    protected override Task HandleForbiddenAsync(AuthenticationProperties properties) => Problems.NoScope.ExecuteAsync(Context);
}

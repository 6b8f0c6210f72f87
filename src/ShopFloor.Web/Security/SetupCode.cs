using System.Security.Cryptography;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;

namespace ShopFloor.Web.Security;

/// <summary>
/// The code with which the first owner proves to have access to the server: made anew at each start while there is no owner,
/// shown in the log only, good once and for two hours.
/// </summary>
public sealed class SetupCode(TimeProvider time)
{
    // Without letters and digits that look alike.
    private const string Alphabet = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789";
    private static readonly TimeSpan Life = TimeSpan.FromHours(2);
    private readonly Lock gate = new();
    private string? code;
    private DateTimeOffset until;

    /// <summary>Makes a code and forgets the one before.</summary>
    /// <returns>The code in groups of four, 80 random bits, and until when it is good.</returns>
    public (string Code, DateTimeOffset Until) Make()
    {
        lock (gate)
        {
            code = RandomNumberGenerator.GetString(Alphabet, 16);
            until = time.GetUtcNow() + Life;
            return (string.Join('-', code.Chunk(4).Select(c => new string(c))), until);
        }
    }

    /// <summary>True when this is the code and it is still good. It stays good until <see cref="Use"/>.</summary>
    public bool IsGood(string typed)
    {
        var plain = new string([.. typed.ToUpperInvariant().Where(char.IsAsciiLetterOrDigit)]);
        lock (gate)
            return code is not null
                && time.GetUtcNow() < until
                && CryptographicOperations.FixedTimeEquals(
                    System.Text.Encoding.ASCII.GetBytes(plain),
                    System.Text.Encoding.ASCII.GetBytes(code)
                );
    }

    /// <summary>The code has done its work.</summary>
    public void Use()
    {
        lock (gate)
            code = null;
    }
}

/// <summary>Prints the code at the start when the shop has no owner yet.</summary>
public static partial class FirstStart
{
    /// <summary>True as soon as somebody is owner.</summary>
    public static Task<bool> HasOwnerAsync(ShopContext context, CancellationToken cancel) =>
        context
            .UserRoles.Join(context.Roles, u => u.RoleId, r => r.Id, (_, r) => r.Name)
            .AnyAsync(name => name == WorkerRole.Owner, cancel);

    public static async Task PrintSetupCodeAsync(this WebApplication app)
    {
        await using var context = await app.Services.GetRequiredService<IDbContextFactory<ShopContext>>().CreateDbContextAsync();
        if (await HasOwnerAsync(context, CancellationToken.None))
            return;
        var (code, until) = app.Services.GetRequiredService<SetupCode>().Make();
        LogCode(app.Logger, code, until);
    }

    [LoggerMessage(
        Level = LogLevel.Warning,
        Message = "There is no owner yet. Open /setup and enter the code {SetupCode}, good once and until {Until:u}; a new start makes a new one"
    )]
    private static partial void LogCode(ILogger logger, string setupCode, DateTimeOffset until);
}

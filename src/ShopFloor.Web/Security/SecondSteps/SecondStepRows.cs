using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;

namespace ShopFloor.Web.Security.SecondSteps;

/// <summary>A worker's second step as it stands among the tokens: the closed key, the last step that was used, hashes of recovery codes.</summary>
public static class SecondStepRows
{
    private const string Provider = "second-step";
    private const string KeyName = "key";
    private const string LastName = "last";
    private const string CodeName = "code-";

    /// <summary>All of a worker's.</summary>
    public static IQueryable<IdentityUserToken<Guid>> Of(ShopContext context, Guid worker) =>
        context.UserTokens.Where(t => t.UserId == worker && t.LoginProvider == Provider);

    /// <summary>Its rows when it is switched on.</summary>
    /// <param name="worker">Whose.</param>
    /// <param name="closedKey">The key, closed.</param>
    /// <param name="last">The step of the code with which it was switched on.</param>
    /// <param name="codes">Recovery codes.</param>
    public static IEnumerable<IdentityUserToken<Guid>> Make(Guid worker, string closedKey, long last, IReadOnlyList<string> codes) =>
        [
            Row(worker, KeyName, closedKey),
            Row(worker, LastName, last.ToString(CultureInfo.InvariantCulture)),
            .. codes.Select((c, i) => Row(worker, CodeName + i.ToString(CultureInfo.InvariantCulture), RecoveryCodes.HashOf(c))),
        ];

    /// <summary>The closed key; null when there is none.</summary>
    public static string? KeyIn(IEnumerable<IdentityUserToken<Guid>> rows) => rows.FirstOrDefault(r => r.Name == KeyName)?.Value;

    /// <summary>The row of the last step that was used.</summary>
    public static IdentityUserToken<Guid>? LastIn(IEnumerable<IdentityUserToken<Guid>> rows) =>
        rows.FirstOrDefault(r => r.Name == LastName);

    /// <summary>The row of a recovery code that was typed.</summary>
    public static IdentityUserToken<Guid>? CodeIn(IEnumerable<IdentityUserToken<Guid>> rows, string typed)
    {
        var hash = RecoveryCodes.HashOf(typed);
        return rows.FirstOrDefault(r => IsCode(r) && r.Value == hash);
    }

    /// <summary>How many recovery codes are left.</summary>
    public static int CodesIn(IEnumerable<IdentityUserToken<Guid>> rows) => rows.Count(IsCode);

    private static bool IsCode(IdentityUserToken<Guid> row) => row.Name.StartsWith(CodeName, StringComparison.Ordinal);

    private static IdentityUserToken<Guid> Row(Guid worker, string name, string value) =>
        new()
        {
            UserId = worker,
            LoginProvider = Provider,
            Name = name,
            Value = value,
        };
}

using Microsoft.AspNetCore.Identity;
using ShopFloor.Data;

namespace ShopFloor.Web.Security;

/// <summary>
/// Length and no guessable pattern; no rule about kinds of characters and no forced change (OWASP ASVS 5.0, 6.2.1 to 6.2.11).
/// </summary>
public sealed class PasswordRule : IPasswordValidator<Worker>
{
    public const int Least = 12;
    public const int Most = 128;
    private const int LeastDifferent = 5;

    /// <summary>Words that stand in most guessing lists, and the words of this place; own list, from memory.</summary>
    private static readonly string[] Guessable =
    [
        "password",
        "passwort",
        "passw0rd",
        "welcome",
        "willkommen",
        "letmein",
        "iloveyou",
        "qwertyuiop",
        "qwertzuiop",
        "asdfghjkl",
        "administrator",
        "superman",
        "princess",
        "football",
        "baseball",
        "sunshine",
        "master",
        "dragon",
        "monkey",
        "secret",
        "login",
        "changeme",
        "starwars",
        "whatever",
        "trustno",
        "shopfloor",
        "workshop",
        "counter",
        "owner",
        "sublimation",
    ];

    private static readonly string[] Rows =
    [
        "abcdefghijklmnopqrstuvwxyz",
        "01234567890",
        "qwertyuiop",
        "qwertzuiop",
        "asdfghjkl",
        "zxcvbnm",
        "yxcvbnm",
    ];

    public Task<IdentityResult> ValidateAsync(UserManager<Worker> manager, Worker user, string? password) =>
        Task.FromResult(
            Fault(password ?? "", [user.UserName, user.DisplayName]) is { } fault
                ? IdentityResult.Failed(new IdentityError { Code = "password-weak", Description = fault })
                : IdentityResult.Success
        );

    /// <summary>What is wrong with a password, in words for its owner, or null.</summary>
    public static string? Fault(string password, IReadOnlyList<string?> names)
    {
        if (password.Length < Least)
            return $"Use at least {Least} characters. Several words in a row are easy to remember and hard to guess.";
        if (password.Length > Most)
            return $"Use at most {Most} characters.";
        var plain = password.ToLowerInvariant();
        if (plain.Distinct().Count() < LeastDifferent)
            return "This repeats the same few characters. Use several different words.";
        var rest = RestWithout(plain, [.. Guessable, .. Rows.SelectMany(RunsOf), .. names.OfType<string>().Where(n => n.Length > 2)]);
        return rest < Least / 2
            ? "This is easy to guess: it is mostly a common word, a name or a row of keys. Use several different words."
            : null;
    }

    /// <summary>Number of characters that are left when guessable parts, digits and signs are taken out.</summary>
    private static int RestWithout(string plain, IEnumerable<string> parts)
    {
        var folded = plain.Replace('0', 'o').Replace('3', 'e').Replace('@', 'a').Replace('$', 's').Replace('1', 'i');
        foreach (var part in parts.OrderByDescending(p => p.Length))
        {
            plain = plain.Replace(part.ToLowerInvariant(), "", StringComparison.Ordinal);
            folded = folded.Replace(part.ToLowerInvariant(), "", StringComparison.Ordinal);
        }
        return Math.Min(plain.Count(char.IsLetterOrDigit), folded.Count(char.IsLetter) + folded.Count(c => !char.IsLetterOrDigit(c)) / 2);
    }

    private static IEnumerable<string> RunsOf(string row)
    {
        for (var length = row.Length; length >= 4; length--)
        for (var start = 0; start + length <= row.Length; start++)
        {
            var run = row.Substring(start, length);
            yield return run;
            yield return new string([.. run.Reverse()]);
        }
    }
}

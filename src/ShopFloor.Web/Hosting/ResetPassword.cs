using System.Security.Cryptography;
using System.Text;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Web.Office.SignIns;
using ShopFloor.Web.Security.SecondSteps;

namespace ShopFloor.Web.Hosting;

/// <summary>
/// Gives a sign-in a new password from the command line: the way back in for an owner who has forgotten it. Whoever may run the program on
/// the data folder could change the database anyway; this does it in order, ends the running sessions and writes it down.
/// </summary>
internal static class ResetPassword
{
    /// <summary>The word in the security log and the audit list.</summary>
    private const string What = "password reset by command";

    // Without letters and digits that look alike; 100 random bits.
    private const string Alphabet = "abcdefghjkmnpqrstuvwxyz23456789";
    private const int Letters = 20;

    /// <summary>Does it. The caller holds the lock of the data folder.</summary>
    /// <returns>False when there is no such sign-in; why is said.</returns>
    public static bool Run(string name, HostSettings settings, TimeProvider time, TextWriter say)
    {
        var file = ShopDatabase.FileIn(settings.DataFolder);
        if (!File.Exists(file))
            throw new FileNotFoundException($"There is no database {file}.", file);
        var options = new DbContextOptionsBuilder<ShopContext>();
        ShopDatabase.Configure(options, file);
        using var context = new ShopContext(options.Options);
        var normal = name.Trim().Normalize(NormalizationForm.FormKC).ToUpperInvariant();
        var worker = context.Users.FirstOrDefault(u => u.NormalizedUserName == normal);
        if (worker is not { IsActive: true })
        {
            say.WriteLine(
                worker is null
                    ? $"Nobody signs in as {name}."
                    : $"{name} was taken away. An owner can give it back in the Office, under Sign-ins."
            );
            say.WriteLine($"Owners are: {string.Join(", ", Owners(context))}. The data folder is {settings.DataFolder}.");
            return false;
        }
        var password = Renew(worker);
        // Whoever forgot the password may have lost the phone too.
        context.UserTokens.RemoveRange(SecondStepRows.Of(context, worker.Id));
        worker.TwoFactorEnabled = false;
        var now = time.GetUtcNow();
        context.SecurityEvents.Add(new SecurityEvent(Guid.CreateVersion7(), now, What, "system", worker.Id.ToString(), isGood: true));
        context.Audit.Add(new AuditEntry(Guid.CreateVersion7(), now, "system", What, worker.UserName!, "", ""));
        context.SaveChanges();
        say.WriteLine($"{worker.UserName} now signs in with the password {password}");
        say.WriteLine("It is shown this once. Its running sessions have ended. Choose one of your own in the Office, under Sign-ins.");
        return true;
    }

    private static string Renew(Worker worker)
    {
        while (true)
        {
            var password = string.Join('-', RandomNumberGenerator.GetString(Alphabet, Letters).Chunk(5).Select(c => new string(c)));
            // By bad luck it is one that the rule for passwords refuses.
            if (SignInRules.SetPassword(worker, password) is not null)
                continue;
            SignInRules.EndSessions(worker);
            return password;
        }
    }

    private static IEnumerable<string?> Owners(ShopContext context) =>
        from u in context.Users
        where u.IsActive
        join ur in context.UserRoles on u.Id equals ur.UserId
        join r in context.Roles on ur.RoleId equals r.Id
        where r.Name == WorkerRole.Owner
        orderby u.UserName
        select u.UserName;
}

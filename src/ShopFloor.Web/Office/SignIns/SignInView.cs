using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Office.SignIns;

/// <summary>A sign-in in the list.</summary>
public sealed record SignInRow(Guid Id, string Name, SignInFacts Facts, string PersonName);

/// <summary>The sign-ins, and the people they can belong to.</summary>
public sealed record SignInSheet(IReadOnlyList<SignInRow> Rows, IReadOnlyList<(string Code, string Name)> People);

/// <summary>Reads who may sign in.</summary>
public sealed class SignInView(IDbContextFactory<ShopContext> contexts) : IPageView
{
    /// <summary>All of them; those that were taken away last.</summary>
    public async Task<SignInSheet> LoadAsync(CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var people = await context.People.AsNoTracking().OrderBy(p => p.Name).ToListAsync(cancel);
        var workers = await context.Users.AsNoTracking().ToListAsync(cancel);
        List<SignInRow> rows = [];
        foreach (var worker in workers.OrderByDescending(w => w.IsActive).ThenBy(w => w.DisplayName, StringComparer.CurrentCulture))
        {
            var facts = await FactsAsync(context, worker, cancel);
            rows.Add(new SignInRow(worker.Id, worker.UserName ?? "", facts, people.Find(p => p.Code == facts.Person)?.Name ?? ""));
        }
        return new SignInSheet(rows, [.. people.Where(p => p.IsActive).Select(p => (p.Code, p.Name))]);
    }

    /// <summary>What holds of one.</summary>
    internal static async Task<SignInFacts> FactsAsync(ShopContext context, Worker worker, CancellationToken cancel)
    {
        var role = await context
            .UserRoles.Where(r => r.UserId == worker.Id)
            .Join(context.Roles, u => u.RoleId, r => r.Id, (_, r) => r.Name)
            .FirstOrDefaultAsync(cancel);
        var person = worker.Person is { } id
            ? await context.People.Where(p => p.Id == id).Select(p => p.Code).FirstOrDefaultAsync(cancel)
            : null;
        return new SignInFacts(worker.DisplayName, role ?? "", person ?? "", worker.IsActive);
    }
}

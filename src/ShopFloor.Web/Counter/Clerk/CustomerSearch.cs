using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Drafts;

namespace ShopFloor.Web.Counter.Clerk;

/// <summary>A customer found.</summary>
public sealed record CustomerHit(CustomerId Id, string Name, string Email, string Phone)
{
    /// <summary>How they are reached, to tell two of one name apart.</summary>
    public string Reach => Email.Length > 0 ? Email : Phone;
}

/// <summary>Finds customers by a part of name, firm, e-mail or phone. Only for who works here: a device of the Counter finds nobody.</summary>
public sealed class CustomerSearch(IDbContextFactory<ShopContext> contexts) : IPageView
{
    private const int Most = 8;

    /// <summary>The first hits by name.</summary>
    public async Task<IReadOnlyList<CustomerHit>> RunAsync(Guid worker, string text, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        if (!await DraftAccess.IsClerkAsync(context, worker.ToString(), cancel))
            return [];
        // SQLite compares letters beyond ASCII only as they are written, so what is near is read and compared here.
        var all = await context
            .Customers.AsNoTracking()
            .Where(c => c.ErasedAt == null)
            .Select(c => new
            {
                c.Id,
                c.Contact,
                c.Company,
            })
            .ToListAsync(cancel);
        bool Has(string field) => field.Contains(text, StringComparison.CurrentCultureIgnoreCase);
        return
        [
            .. all.Where(c => Has(c.Contact.Name) || Has(c.Company) || Has(c.Contact.Email) || Has(c.Contact.Phone))
                .OrderBy(c => c.Contact.Name, StringComparer.CurrentCulture)
                .Take(Most)
                .Select(c => new CustomerHit(c.Id, c.Contact.Name, c.Contact.Email, c.Contact.Phone)),
        ];
    }
}

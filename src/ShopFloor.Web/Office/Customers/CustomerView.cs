using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pricing;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Customers;

/// <summary>A customer in the list.</summary>
/// <param name="Id">Which.</param>
/// <param name="Name">Name.</param>
/// <param name="Company">Firm; may be empty.</param>
/// <param name="Group">Name of the price group; may be empty.</param>
/// <param name="Orders">How many orders there are.</param>
/// <param name="LastAt">When the last was booked, UTC; null: none.</param>
public sealed record CustomerRow(CustomerId Id, string Name, string Company, string Group, int Orders, DateTimeOffset? LastAt);

/// <summary>A page of the list.</summary>
public sealed record CustomerList(IReadOnlyList<CustomerRow> Rows, int Count, int Page, int Pages, TimeZoneInfo Zone);

/// <summary>One customer with the orders.</summary>
public sealed record CustomerDetail(
    CustomerId Id,
    int Version,
    Contact Contact,
    string Company,
    Address? Address,
    string VatId,
    string Group,
    bool IsErased,
    IReadOnlyList<GroupDiscount> Groups,
    string Country,
    IReadOnlyList<(int Number, DateTime Booked)> Orders
);

/// <summary>Reads customers for the Office.</summary>
public sealed class CustomerView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>Customers on a page.</summary>
    public const int PageSize = 50;

    /// <summary>One page, by name.</summary>
    /// <param name="search">Part of a name, firm or e-mail address; empty: all.</param>
    /// <param name="page">From 1; beyond the last page: the last.</param>
    /// <param name="cancel">Ends the query.</param>
    public async Task<CustomerList> LoadAsync(string? search, int page, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var settings = await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel);
        var word = (search ?? "").Trim();
        var found = context.Customers.AsNoTracking().Where(c => c.ErasedAt == null);
        if (word.Length > 0)
            found = found.Where(c => c.Contact.Name.Contains(word) || c.Company.Contains(word) || c.Contact.Email.Contains(word));
        var count = await found.CountAsync(cancel);
        var pages = Math.Max(1, (count + PageSize - 1) / PageSize);
        page = Math.Clamp(page, 1, pages);
        var rows = await found
            .OrderBy(c => c.Contact.Name)
            .ThenBy(c => c.Id)
            .Skip((page - 1) * PageSize)
            .Take(PageSize)
            .Select(c => new
            {
                c.Id,
                c.Contact.Name,
                c.Company,
                c.Group,
                Orders = context.Orders.Count(o => o.Customer == c.Id),
                LastAt = context.Orders.Where(o => o.Customer == c.Id).Max(o => (DateTimeOffset?)o.BookedAt),
            })
            .ToListAsync(cancel);
        return new CustomerList(
            [
                .. rows.Select(r => new CustomerRow(
                    r.Id,
                    r.Name,
                    r.Company,
                    settings.Rule.DiscountFor(r.Group)?.Name ?? r.Group,
                    r.Orders,
                    r.LastAt
                )),
            ],
            count,
            page,
            pages,
            settings.Zone
        );
    }

    /// <summary>One customer; null when there is none.</summary>
    public async Task<CustomerDetail?> FindAsync(Guid id, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var key = new CustomerId(id);
        var customer = await context.Customers.AsNoTracking().FirstOrDefaultAsync(c => c.Id == key, cancel);
        if (customer is null)
            return null;
        var settings = await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel);
        var orders = await context
            .Orders.AsNoTracking()
            .Where(o => o.Customer == key)
            .OrderByDescending(o => o.Number)
            .Select(o => new { o.Number, o.BookedAt })
            .ToListAsync(cancel);
        return new CustomerDetail(
            customer.Id,
            customer.Version,
            customer.Contact,
            customer.Company,
            customer.Address,
            customer.VatId,
            customer.Group,
            customer.ErasedAt is not null,
            settings.Rule.GroupDiscounts,
            settings.Profile.Country,
            [.. orders.Select(o => (o.Number, TimeZoneInfo.ConvertTime(o.BookedAt, settings.Zone).DateTime))]
        );
    }
}

using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;
using Address = ShopFloor.Domain.Orders.Address;

namespace ShopFloor.Web.Office.Exchange;

/// <summary>Customers in a file. A known external id is changed, another is new.</summary>
internal static class CustomerRows
{
    public static IReadOnlyList<CsvColumn> Columns { get; } =
    [
        new("external_id", IsNeeded: true),
        new("name", IsNeeded: true),
        new("company"),
        new("email"),
        new("phone"),
        new("street"),
        new("postcode"),
        new("city"),
        new("country"),
        new("vat_id"),
        new("group"),
        new("contact_agreed"),
    ];

    /// <summary>Takes the good rows into the command's context.</summary>
    public static async Task TakeAsync(CommandWork work, IReadOnlyList<CsvRow> rows, ImportCount count, CancellationToken cancel)
    {
        var names = rows.Select(r => r.Cells["external_id"].Trim()).Distinct(StringComparer.Ordinal).ToList();
        var known = await KnownAsync(work.Context, names, cancel);
        var groups = (await CurrentSettings.LoadAsync(work.Context, work.Now, cancel))
            .Rule.GroupDiscounts.Select(g => g.Group)
            .ToHashSet(StringComparer.Ordinal);
        var seen = new HashSet<string>(StringComparer.Ordinal);
        foreach (var row in rows)
        {
            var cells = new CellReader(row, count.Faults);
            var id = cells.Text("external_id", 100, needed: true);
            if (id.Length > 0 && !seen.Add(id))
                cells.Fault("external_id", $"“{id}” stands in the file twice.");
            var found = known.GetValueOrDefault(id);
            var group = cells.TextOr("group", found?.Group, 50);
            if (group.Length > 0 && group != found?.Group && !groups.Contains(group))
                cells.Fault("group", $"There is no price group “{group}”.");
            Take(work, (id, group), cells, found, count);
        }
    }

    /// <summary>The same file made of what is kept.</summary>
    public static async Task<string> WriteAsync(ShopContext context, CancellationToken cancel)
    {
        var all = await context
            .Customers.AsNoTracking()
            .Where(c => c.ErasedAt == null)
            .OrderBy(c => c.MadeAt)
            .ThenBy(c => c.Id)
            .ToListAsync(cancel);
        return CsvText.Write(
            [.. Columns.Select(c => c.Name)],
            all.Select(c =>
                new object?[]
                {
                    NameOf(c),
                    c.Contact.Name,
                    c.Company,
                    c.Contact.Email,
                    c.Contact.Phone,
                    c.Address?.Street ?? "",
                    c.Address?.Postcode ?? "",
                    c.Address?.City ?? "",
                    c.Address?.Country ?? "",
                    c.VatId,
                    c.Group,
                    c.ConsentAt is not null,
                }
            )
        );
    }

    /// <summary>Those of the named customers that are kept, by their name in files.</summary>
    internal static Task<Dictionary<string, Customer>> KnownAsync(
        ShopContext context,
        IReadOnlyList<string> names,
        CancellationToken cancel
    )
    {
        var ids = names.Where(n => Guid.TryParseExact(n, "N", out _)).Select(n => new CustomerId(Guid.ParseExact(n, "N"))).ToList();
        return context
            .Customers.Where(c => c.ErasedAt == null && (names.Contains(c.ExternalId) || ids.Contains(c.Id)))
            .ToDictionaryAsync(NameOf, StringComparer.Ordinal, cancel);
    }

    /// <summary>What a file calls a customer: the external id, or ours for one that was entered here.</summary>
    internal static string NameOf(Customer c) => c.ExternalId.Length > 0 ? c.ExternalId : c.Id.Value.ToString("N");

    private static void Take(CommandWork work, (string Id, string Group) key, CellReader cells, Customer? found, ImportCount count)
    {
        var contact = new Contact(
            cells.Text("name", needed: true),
            cells.TextOr("email", found?.Contact.Email, 254),
            cells.TextOr("phone", found?.Contact.Phone, 40)
        );
        var (company, vatId) = (cells.TextOr("company", found?.Company), cells.TextOr("vat_id", found?.VatId, 20));
        var (address, agreed) = (AddressOf(cells, found?.Address), cells.Flag("contact_agreed"));
        if (contact.Name.Length > 0)
            cells.Faults(Customer.ContactFaults(contact), field => field);
        if (!cells.IsGood)
            return;
        if (found is not null && IsSame(found, contact, (company, vatId, key.Group), address))
        {
            count.Same++;
            return;
        }
        var customer = found;
        if (customer is null)
            work.Context.Customers.Add(
                customer = Customer.Create(new CustomerId(Guid.CreateVersion7()), contact, work.Now, agreed ? work.Now : null, key.Id).Value
            );
        var changed = customer.Change(contact, company, address, vatId, key.Group);
        cells.Faults(changed.Refusals, field => field == "vatId" ? "vat_id" : field);
        if (!changed.IsOk)
            return;
        (count.New, count.Changed) = found is null ? (count.New + 1, count.Changed) : (count.New, count.Changed + 1);
    }

    private static Address? AddressOf(CellReader cells, Address? kept)
    {
        var (street, postcode, city, country) = (
            cells.TextOr("street", kept?.Street),
            cells.TextOr("postcode", kept?.Postcode, 20),
            cells.TextOr("city", kept?.City),
            cells.TextOr("country", kept?.Country, 2)
        );
        if (street.Length + postcode.Length + city.Length + country.Length == 0)
            return null;
        if (!Codes.IsCountry(country))
            cells.Fault("country", "Two capital letters by ISO 3166, for example DE, wherever an address is given.");
        return new Address(street, postcode, city, country);
    }

    private static bool IsSame(Customer found, Contact contact, (string Company, string VatId, string Group) facts, Address? address) =>
        found.Contact == contact && (found.Company, found.VatId, found.Group) == facts && found.Address == address;
}

using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Office.Settings;
using Address = ShopFloor.Domain.Orders.Address;

namespace ShopFloor.Web.Office.Customers;

/// <summary>A customer while it is being changed, as typed.</summary>
public sealed class CustomerForm(CustomerDetail customer)
{
    public string Name { get; set; } = customer.Contact.Name;
    public string Email { get; set; } = customer.Contact.Email;
    public string Phone { get; set; } = customer.Contact.Phone;
    public string Company { get; set; } = customer.Company;
    public string Street { get; set; } = customer.Address?.Street ?? "";
    public string Postcode { get; set; } = customer.Address?.Postcode ?? "";
    public string City { get; set; } = customer.Address?.City ?? "";
    public string Country { get; set; } = customer.Address?.Country ?? customer.Country;
    public string VatId { get; set; } = customer.VatId;
    public string? Group { get; set; } = customer.Group;

    /// <summary>What somebody else changed before this could be saved.</summary>
    public IReadOnlyList<ChangedField> Meanwhile { get; private init; } = [];

    /// <summary>This form on the customer as somebody else left it: what was entered stays, the rest follows.</summary>
    public CustomerForm Follow(CustomerDetail now)
    {
        var (before, form, meanwhile) = (new CustomerForm(customer), new CustomerForm(now), new Meanwhile());
        return new CustomerForm(now)
        {
            Meanwhile = meanwhile.Fields,
            Name = meanwhile.Take("Name", Name, before.Name, form.Name),
            Email = meanwhile.Take("E-mail", Email, before.Email, form.Email),
            Phone = meanwhile.Take("Phone", Phone, before.Phone, form.Phone),
            Company = meanwhile.Take("Firm", Company, before.Company, form.Company),
            Street = meanwhile.Take("Street and number", Street, before.Street, form.Street),
            Postcode = meanwhile.Take("Postcode", Postcode, before.Postcode, form.Postcode),
            City = meanwhile.Take("Town", City, before.City, form.City),
            Country = meanwhile.Take("Country, two letters", Country, before.Country, form.Country),
            VatId = meanwhile.Take("Tax id", VatId, before.VatId, form.VatId),
            Group = meanwhile.Take("Price group", Group, before.Group, form.Group),
        };
    }

    /// <summary>What was entered, or every field that cannot be used. An address is given whole or not at all.</summary>
    public Result<CustomerInput> Read()
    {
        var (street, postcode, city, country) = (Street.Trim(), Postcode.Trim(), City.Trim(), Country.Trim().ToUpperInvariant());
        var faults = new List<Refusal>();
        var given = street.Length + postcode.Length + city.Length > 0;
        if (given && street.Length == 0)
            faults.Add(new Refusal("street-missing", "Give the street and number too, or leave the address empty.", "street"));
        if (given && city.Length == 0)
            faults.Add(new Refusal("city-missing", "Give the town too, or leave the address empty.", "city"));
        if (given && !Codes.IsCountry(country))
            faults.Add(new Refusal("country", "The country is two capital letters by ISO 3166, for example DE.", "country"));
        // An address of a country alone would be left out without a word.
        if (!given && country.Length > 0 && country != customer.Country && country != customer.Address?.Country)
            faults.Add(new Refusal("street-missing", "A country alone is no address: give street and town too.", "street"));
        return faults.Count > 0
            ? Result<CustomerInput>.Refused(faults)
            : new CustomerInput(
                customer.Id,
                customer.Version,
                new Contact(Name, Email, Phone),
                Company,
                given ? new Address(street, postcode, city, country) : null,
                VatId,
                Group ?? ""
            );
    }
}

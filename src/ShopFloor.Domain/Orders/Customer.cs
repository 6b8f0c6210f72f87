using ShopFloor.Domain.Invoicing;

namespace ShopFloor.Domain.Orders;

/// <summary>A postal address.</summary>
/// <param name="Street">Street and number.</param>
/// <param name="Postcode">Post code.</param>
/// <param name="City">Town.</param>
/// <param name="Country">ISO 3166 two letters.</param>
public sealed record Address(string Street, string Postcode, string City, string Country);

/// <summary>How somebody is reached; only what is needed.</summary>
/// <param name="Name">Full name, any letters, as typed.</param>
/// <param name="Email">For the ready notice; may be empty.</param>
/// <param name="Phone">For a call; may be empty.</param>
public sealed record Contact(string Name, string Email, string Phone)
{
    /// <summary>This contact, what is not given in it taken from another; without blanks at the ends.</summary>
    public Contact Over(Contact known)
    {
        static string Given(string text, string otherwise) => string.IsNullOrWhiteSpace(text) ? otherwise : text.Trim();
        return new(Given(Name, known.Name), Given(Email, known.Email), Given(Phone, known.Phone));
    }
}

/// <summary>Somebody who orders.</summary>
public sealed class Customer
{
    private string externalId = "";

    private Customer() { }

    /// <summary>Names the customer.</summary>
    public CustomerId Id { get; private set; }

    /// <summary>Name and ways to reach.</summary>
    public Contact Contact { get; private set; } = new("", "", "");

    /// <summary>Firm, when it is one.</summary>
    public string Company { get; private set; } = "";

    /// <summary>Where invoices go; null when not given.</summary>
    public Address? Address { get; private set; }

    /// <summary>Tax id with its country letters; may be empty.</summary>
    public string VatId { get; private set; } = "";

    /// <summary>Price group; empty: the normal one.</summary>
    public string Group { get; private set; } = "";

    /// <summary>When and to which wording the keeping of contact data was agreed, UTC.</summary>
    public DateTimeOffset? ConsentAt { get; private set; }

    /// <summary>When the personal data was erased, UTC.</summary>
    public DateTimeOffset? ErasedAt { get; private set; }

    /// <summary>First booked, UTC.</summary>
    public DateTimeOffset MadeAt { get; private set; }

    /// <summary>Its name in the program that it came from, unique; empty when it was entered here.</summary>
    public string ExternalId
    {
        get => externalId;
        init => externalId = value;
    }

    /// <summary>Counts changes.</summary>
    public int Version { get; private set; }

    /// <summary>A new customer.</summary>
    public static Result<Customer> Create(
        CustomerId id,
        Contact contact,
        DateTimeOffset at,
        DateTimeOffset? consentAt,
        string externalId = ""
    )
    {
        var customer = new Customer
        {
            Id = id,
            MadeAt = at,
            ConsentAt = consentAt,
            ExternalId = externalId,
        };
        return customer.Change(contact, "", null, "", "").Then(_ => Result<Customer>.Ok(customer));
    }

    /// <summary>Changes what is known.</summary>
    public Result<Done> Change(Contact contact, string company, Address? address, string vatId, string group)
    {
        var faults = ContactFaults(contact);
        if (company.Length > 200)
            faults.Add(new Refusal("company-long", "A firm's name has at most 200 characters.", "company"));
        if (vatId.Length > 20)
            faults.Add(new Refusal("vat-long", "A tax id has at most 20 characters.", "vatId"));
        else if (!LooksLikeTaxId(vatId.Trim()))
            faults.Add(
                new Refusal(
                    "vat-wrong",
                    "A tax id begins with the letters of its country, for example ATU12345678, or with a digit.",
                    "vatId"
                )
            );
        if (address is { Country: var country } && !Codes.IsCountry(country))
            faults.Add(new Refusal("country", "The country is two capital letters by ISO 3166, for example DE.", "country"));
        if (ErasedAt is not null)
            faults.Add(new Refusal("customer-erased", "This customer's data was erased."));
        if (faults.Count > 0)
            return Result<Done>.Refused(faults);
        (Contact, Company, Address, VatId, Group) = (Trimmed(contact), company.Trim(), address, vatId.Trim(), group);
        Version++;
        return default(Done);
    }

    /// <summary>Takes out everything personal; orders and invoices keep their own snapshots as the law asks.</summary>
    public void Erase(DateTimeOffset at)
    {
        (Contact, Company, Address, VatId, externalId) = (new Contact("Erased", "", ""), "", null, "", "");
        ErasedAt = at;
        Version++;
    }

    /// <summary>What is wrong with contact data, beside its field.</summary>
    public static List<Refusal> ContactFaults(Contact contact)
    {
        var faults = new List<Refusal>();
        if (string.IsNullOrWhiteSpace(contact.Name))
            faults.Add(new Refusal("name-missing", "Please give a name for the order.", "name"));
        else if (contact.Name.Length > 200)
            faults.Add(new Refusal("name-long", "A name has at most 200 characters.", "name"));
        if (contact.Email.Length > 0 && !LooksLikeMail(contact.Email.Trim()))
            faults.Add(new Refusal("email-wrong", "This is no e-mail address, e.g. ada@example.org.", "email"));
        var digits = contact.Phone.Count(char.IsAsciiDigit);
        if (contact.Phone.Length > 0 && (digits is < 5 or > 20 || contact.Phone.Length > 40))
            faults.Add(new Refusal("phone-wrong", "A phone number has 5 to 20 digits.", "phone"));
        if (contact.Email.Length == 0 && contact.Phone.Length == 0)
            faults.Add(
                new Refusal("reach-missing", "Give an e-mail address or a phone number, so that we can say when it is ready.", "email")
            );
        return faults;
    }

    // Whether it is in force only the tax office knows. Ids that begin with a digit belong to countries without VAT.
    private static bool LooksLikeTaxId(string id) =>
        id.Length == 0 || char.IsAsciiDigit(id[0]) || (Codes.HasCountryLetters(id) && id.Skip(2).Count(char.IsAsciiLetterOrDigit) >= 5);

    /// <summary>Whether a text has the form of an e-mail address.</summary>
    public static bool LooksLikeMail(string text)
    {
        var at = text.IndexOf('@', StringComparison.Ordinal);
        return text.Length <= 254
            && at > 0
            && at == text.LastIndexOf('@')
            && text.IndexOf('.', at) > at + 1
            && !text.EndsWith('.')
            && !text.Any(char.IsWhiteSpace);
    }

    private static Contact Trimmed(Contact c) => new(c.Name.Trim(), c.Email.Trim(), c.Phone.Trim());
}

using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Customers;

/// <summary>A customer as the owner entered it.</summary>
/// <param name="Id">Which.</param>
/// <param name="SeenVersion">The version the page showed.</param>
/// <param name="Contact">Name and ways to reach.</param>
/// <param name="Company">Firm; may be empty.</param>
/// <param name="Address">Where invoices go; null: not given.</param>
/// <param name="VatId">Tax id; may be empty.</param>
/// <param name="Group">Code of the price group; empty: the normal prices.</param>
public sealed record CustomerInput(
    CustomerId Id,
    int SeenVersion,
    Contact Contact,
    string Company,
    Address? Address,
    string VatId,
    string Group
);

/// <summary>Changes what is known of a customer. Orders and invoices that there are keep what was agreed.</summary>
public sealed class ChangeCustomer(CommandRunner runner) : IUseCase
{
    /// <summary>Changes it.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, CustomerInput input, CancellationToken cancel = default) =>
        runner.RunAsync<CustomerInput, Done>(
            nameof(ChangeCustomer),
            Allowed.Owner,
            asked,
            input,
            work => DecideAsync(work, input, cancel),
            cancel
        );

    private static async Task<Result<Done>> DecideAsync(CommandWork work, CustomerInput input, CancellationToken cancel)
    {
        var customer = await work.Context.Customers.FirstOrDefaultAsync(c => c.Id == input.Id, cancel);
        if (customer is null)
            return new Refusal("customer-missing", "This customer is no longer there.");
        if (CommandWork.IfChanged(input.SeenVersion, customer.Version, customer.Contact.Name) is { } changed)
            return changed;
        var settings = await CurrentSettings.LoadAsync(work.Context, work.Now, cancel);
        if (input.Group.Length > 0 && input.Group != customer.Group && settings.Rule.DiscountFor(input.Group) is null)
            return new Refusal("group-unknown", $"There is no customer group {input.Group} in the price rule.", "group");
        var before = customer.Group;
        var done = customer.Change(input.Contact, input.Company, input.Address, input.VatId, input.Group);
        if (!done.IsOk)
            return done;
        // The group changes prices, so it goes into the audit list; personal data does not.
        if (before != customer.Group)
            work.Audit("customer group changed", customer.Id.Value.ToString(), before, customer.Group);
        work.Touch(Topic.Order, Guid.Empty);
        return done;
    }
}

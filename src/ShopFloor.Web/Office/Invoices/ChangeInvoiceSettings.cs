using Microsoft.EntityFrameworkCore;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>Changes tax system, tax rates, cash rounding and reminders. Issued documents keep what they were issued with.</summary>
public sealed class ChangeInvoiceSettings(CommandRunner runner) : IUseCase
{
    private static readonly Refusal NoDay = new(
        "tax-from",
        "Orders are booked under the tax system until now. Enter the first day of the other one: what is handed over before it is invoiced as it was agreed.",
        nameof(InvoiceSettings.SchemeFrom)
    );

    /// <summary>Changes them, or names every field that is wrong.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, InvoiceSettings settings, CancellationToken cancel = default) =>
        runner.RunAsync<InvoiceSettings, Done>(
            nameof(ChangeInvoiceSettings),
            Allowed.Owner,
            asked,
            settings,
            async work =>
            {
                var now = await CurrentSettings.LoadAsync(work.Context, work.Now, cancel);
                var next = settings.After(now.Invoices, now.Day(work.Now));
                var faults = next.Check().ToList();
                if (next.ShownFault(now.Profile.PricesIncludeTax, nameof(InvoiceSettings.Scheme)) is { } shown)
                    faults.Add(shown);
                if (next.ChangesThePast(now.Invoices) && await work.Context.Orders.AnyAsync(cancel))
                    faults.Add(NoDay);
                if (faults.Count > 0)
                    return Result<Done>.Refused(faults);
                await work.KeepAsync(SettingKeys.Invoices, next, cancel);
                return default(Done);
            },
            cancel
        );
}

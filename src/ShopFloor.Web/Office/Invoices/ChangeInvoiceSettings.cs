using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>Changes tax system, tax rates, cash rounding and reminders. Issued documents keep what they were issued with.</summary>
public sealed class ChangeInvoiceSettings(CommandRunner runner) : IUseCase
{
    /// <summary>Changes them, or names every field that is wrong.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, InvoiceSettings settings, CancellationToken cancel = default) =>
        runner.RunAsync<InvoiceSettings, Done>(
            nameof(ChangeInvoiceSettings),
            Allowed.Owner,
            asked,
            settings,
            async work =>
            {
                var faults = settings.Check().ToList();
                var profile = (await CurrentSettings.LoadAsync(work.Context, work.Now, cancel)).Profile;
                if (settings.ShownFault(profile.PricesIncludeTax, nameof(InvoiceSettings.Scheme)) is { } shown)
                    faults.Add(shown);
                if (faults.Count > 0)
                    return Result<Done>.Refused(faults);
                await work.KeepAsync(SettingKeys.Invoices, settings, cancel);
                return default(Done);
            },
            cancel
        );
}

using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Duties;

/// <summary>Changes how long things are kept.</summary>
public sealed class ChangeKeeping(CommandRunner runner) : IUseCase
{
    /// <summary>Changes it, or names every field that is wrong.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, KeepingTimes times, CancellationToken cancel = default) =>
        runner.RunAsync<KeepingTimes, Done>(
            nameof(ChangeKeeping),
            Allowed.Owner,
            asked,
            times,
            async work =>
            {
                var faults = times.Check();
                if (faults.Count > 0)
                    return Result<Done>.Refused(faults);
                await work.KeepAsync(SettingKeys.Keeping, times, cancel);
                return default(Done);
            },
            cancel
        );

    /// <summary>The numbers for a page.</summary>
    public static NumberEntries<KeepingTimes> Entries(KeepingTimes start) =>
        new(
            [
                new(
                    nameof(KeepingTimes.DraftDays),
                    "Entries that became no order",
                    "days",
                    t => t.DraftDays,
                    (t, v) => t with { DraftDays = decimal.ToInt32(v!.Value) },
                    IsCount: true
                ),
                new(
                    nameof(KeepingTimes.PictureDays),
                    "Pictures after an order is over",
                    "days",
                    t => t.PictureDays,
                    (t, v) => t with { PictureDays = decimal.ToInt32(v!.Value) },
                    IsCount: true
                ),
                new(
                    nameof(KeepingTimes.LinkDays),
                    "Status links after an order is over",
                    "days",
                    t => t.LinkDays,
                    (t, v) => t with { LinkDays = decimal.ToInt32(v!.Value) },
                    IsCount: true
                ),
                new(
                    nameof(KeepingTimes.MessageDays),
                    "Words of sent messages",
                    "days",
                    t => t.MessageDays,
                    (t, v) => t with { MessageDays = decimal.ToInt32(v!.Value) },
                    IsCount: true
                ),
                new(
                    nameof(KeepingTimes.CommandDays),
                    "Answers to commands",
                    "days",
                    t => t.CommandDays,
                    (t, v) => t with { CommandDays = decimal.ToInt32(v!.Value) },
                    IsCount: true
                ),
                new(
                    nameof(KeepingTimes.InvoiceYears),
                    "Invoices with their names",
                    "years",
                    t => t.InvoiceYears,
                    (t, v) => t with { InvoiceYears = decimal.ToInt32(v!.Value) },
                    IsCount: true
                ),
            ],
            start
        );
}

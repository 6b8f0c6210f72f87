using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Stock;

/// <summary>Cans that came in, all of one lot.</summary>
/// <param name="Coating">What is in them.</param>
/// <param name="Count">How many, 1 to 200.</param>
/// <param name="Lot">The maker's lot, 1 to 40 characters.</param>
/// <param name="UseBy">Last day on the label, shop-local; null: none printed.</param>
/// <param name="Note">Delivery slip or supplier, at most 200 characters.</param>
public sealed record CanDelivery(CoatingId Coating, int Count, string Lot, DateOnly? UseBy, string Note = "");

/// <summary>Cans that were booked in.</summary>
/// <param name="Codes">Their numbers.</param>
/// <param name="HeldBecause">Why their lot is barred, and they with it; null: they may be used.</param>
public sealed record CansReceived(IReadOnlyList<string> Codes, string? HeldBecause);

/// <summary>Books new cans in: each gets a number for its label.</summary>
public sealed class ReceiveCans(CommandRunner runner) : IUseCase
{
    /// <summary>Books them in.</summary>
    /// <returns>Their numbers, and whether they are barred.</returns>
    public Task<Result<CansReceived>> RunAsync(Asked asked, CanDelivery input, CancellationToken cancel = default) =>
        runner.RunAsync<CanDelivery, CansReceived>(
            nameof(ReceiveCans),
            Allowed.Owner,
            asked,
            input,
            work => DecideAsync(work, input, cancel),
            cancel
        );

    private static async Task<Result<CansReceived>> DecideAsync(CommandWork work, CanDelivery input, CancellationToken cancel)
    {
        var coating = await work.Context.Coatings.FirstOrDefaultAsync(c => c.Id == input.Coating, cancel);
        var settings = await CurrentSettings.LoadAsync(work.Context, work.Now, cancel);
        var faults = Faults(input, settings.Day(work.Now)).ToList();
        if (coating is null)
            faults.Add(new Refusal("coating-missing", "Choose what is in the cans.", "coating"));
        if (faults.Count > 0 || coating is null)
            return Result<CansReceived>.Refused(faults);
        var held = await HeldAsync(work, coating.Id, input.Lot.Trim(), cancel);
        var codes = new List<string>();
        for (var i = 0; i < input.Count; i++)
        {
            var code = await NextCodeAsync(work, cancel);
            var id = new CanId(Guid.CreateVersion7());
            var can = new Can(id, coating.Id, code, input.Lot.Trim(), coating.Settings.CanMl, input.UseBy, work.Now);
            if (held is not null)
                can.Hold(held);
            work.Context.Cans.Add(can);
            work.Note(can, can.FullMl, new StockCause(StockReason.Delivery, Note: input.Note.Trim()));
            codes.Add(code);
        }
        return new CansReceived(codes, held);
    }

    /// <summary>Why the lot is barred; null: it is not, or nothing of it came in before. A slip in large and small letters is the same lot.</summary>
    private static Task<string?> HeldAsync(CommandWork work, CoatingId coating, string lot, CancellationToken cancel)
    {
        var large = lot.ToUpperInvariant();
        return work
            .Context.Cans.Where(c => c.Coating == coating && (c.Lot == lot || c.Lot.ToUpper() == large) && c.HeldBecause != null)
            .OrderBy(c => c.Code)
            .Select(c => c.HeldBecause)
            .FirstOrDefaultAsync(cancel);
    }

    // Numbers that somebody gave by hand, or an older program, are stepped over.
    private static async Task<string> NextCodeAsync(CommandWork work, CancellationToken cancel)
    {
        while (true)
        {
            var number = await work.NextNumberAsync("can", cancel);
            var code = string.Create(CultureInfo.InvariantCulture, $"C-{number:000}");
            if (!await work.Context.Cans.AnyAsync(c => c.Code == code, cancel))
                return code;
        }
    }

    private static IEnumerable<Refusal> Faults(CanDelivery input, DateOnly today)
    {
        if (input.Count is < 1 or > 200)
            yield return new Refusal("count", "Book in from 1 to 200 cans at once.", "count");
        if (input.Lot.Trim().Length is 0 or > 40)
            yield return new Refusal("lot", "Enter the lot from the can's bottom or label, at most 40 characters.", "lot");
        if (input.UseBy < today)
            yield return new Refusal("expired", "These cans are past their last day already: send them back.", "useBy");
        if (input.UseBy > today.AddYears(20))
            yield return new Refusal("use-by", "This last day is more than 20 years away: check the year.", "useBy");
        if (input.Note.Length > 200)
            yield return new Refusal("note", "A note has at most 200 characters.", "note");
    }
}

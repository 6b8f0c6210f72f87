using ShopFloor.Domain;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>What was typed about a payment, read.</summary>
public sealed record PaymentEntry(decimal Amount, DateOnly Day)
{
    /// <summary>Reads amount and day, or says what is wrong with the first that cannot be read.</summary>
    public static Result<PaymentEntry> Read(string? amount, string? day)
    {
        var sum = NumberText.Money(amount, nameof(Amount));
        if (!sum.IsOk)
            return Result<PaymentEntry>.Refused(sum.Refusals);
        return DateOnly.TryParseExact(day, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var on)
            ? new PaymentEntry(sum.Value, on)
            : new Refusal("day", "Enter the day of payment.", nameof(Day));
    }
}

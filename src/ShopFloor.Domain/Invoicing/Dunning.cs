using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Invoicing;

/// <summary>One step of reminding, set by the owner.</summary>
/// <param name="Level">1 for the first.</param>
/// <param name="Name">What the letter is called, e.g. <c>Reminder</c>.</param>
/// <param name="DaysLate">Whole days after the due date before it may go out, at least 1.</param>
/// <param name="Fee">Asked for, in the document's currency; 0 for none.</param>
/// <param name="InterestPercentPerYear">Simple interest asked for, 0 for none. What may be asked is a matter of local law and of the contract.</param>
/// <param name="DaysToPay">Time given by the letter.</param>
public sealed record DunningLevel(int Level, string Name, int DaysLate, decimal Fee, decimal InterestPercentPerYear, int DaysToPay);

/// <summary>A letter already sent.</summary>
public sealed record ReminderSent(int Level, DateOnly Day)
{
    /// <summary>What it asked for its trouble.</summary>
    public decimal Fee { get; init; }

    /// <summary>What it asked for being late.</summary>
    public decimal Interest { get; init; }
}

/// <summary>A letter to be sent.</summary>
/// <param name="Level">Which step.</param>
/// <param name="DaysLate">Days since the due date.</param>
/// <param name="Outstanding">Still to pay.</param>
/// <param name="Interest">Interest up to today.</param>
/// <param name="PayUntil">Last day the letter gives.</param>
public sealed record ReminderDue(DunningLevel Level, int DaysLate, decimal Outstanding, decimal Interest, DateOnly PayUntil)
{
    /// <summary>All that the letter asks for.</summary>
    public decimal Total => Outstanding + Level.Fee + Interest;
}

/// <summary>Who is to be reminded of what.</summary>
public static class Dunning
{
    /// <summary>
    /// The next letter for an invoice, or null. Levels go out one after the other, each not before its days and not before the time the last letter gave has
    /// passed; credit notes, receipts and invoices without a due date are never dunned.
    /// </summary>
    /// <param name="item">The invoice.</param>
    /// <param name="levels">The owner's steps.</param>
    /// <param name="sent">Letters already sent for it.</param>
    /// <param name="today">The day of the list.</param>
    public static ReminderDue? Next(OpenItem item, IReadOnlyList<DunningLevel> levels, IReadOnlyList<ReminderSent> sent, DateOnly today)
    {
        var late = item.DaysLate(today);
        var last = sent.MaxBy(s => s.Level);
        var next = levels.Where(l => last is null || l.Level > last.Level).MinBy(l => l.Level);
        if (
            late == 0
            || next is null
            || late < next.DaysLate
            || item.Invoice.Content.Kind is DocumentKind.CreditNote or DocumentKind.Receipt
        )
            return null;
        if (last is not null && today <= last.Day.AddDays(levels.FirstOrDefault(l => l.Level == last.Level)?.DaysToPay ?? 0))
            return null;
        var interest = Interest(item.Outstanding, next.InterestPercentPerYear, late);
        return new ReminderDue(next, late, item.Outstanding, interest, today.AddDays(next.DaysToPay));
    }

    /// <summary>Simple interest: amount × percent ÷ 100 × days ÷ 365, rounded (common practice, no source).</summary>
    public static decimal Interest(decimal amount, decimal percentPerYear, int days) =>
        Money.Round(amount * percentPerYear * days / 36_500m);

    /// <summary>What is wrong with the owner's steps; empty when nothing is.</summary>
    public static IReadOnlyList<Refusal> Check(IReadOnlyList<DunningLevel> levels)
    {
        List<Refusal> found = [];
        if (levels.Any(l => l.DaysLate < 1 || l.DaysToPay is < 1 or > 365))
            found.Add(new("dunning-days", "A reminder goes out at least one day after the due date and gives 1 to 365 days to pay."));
        if (levels.Any(l => l.Fee is < 0 or > 10_000 || l.InterestPercentPerYear is < 0 or > 100))
            found.Add(new("dunning-fee", "A fee is between 0 and 10,000, interest between 0 and 100 % a year."));
        if (levels.Select(l => l.Level).Distinct().Count() != levels.Count)
            found.Add(new("dunning-twice", "Each level of reminding stands once."));
        var inTurn = levels.OrderBy(l => l.Level).ToList();
        foreach (var (earlier, later) in inTurn.Zip(inTurn.Skip(1)).Where(p => p.Second.DaysLate <= p.First.DaysLate))
            found.Add(
                new(
                    "dunning-order",
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"Reminder {later.Level} goes out after reminder {earlier.Level}: more than {earlier.DaysLate} days after the due date."
                    ),
                    string.Create(CultureInfo.InvariantCulture, $"Days{later.Level}")
                )
            );
        return found;
    }
}

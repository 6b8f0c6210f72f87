using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Invoicing;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>What a bank line is.</summary>
public enum BankFit
{
    /// <summary>Names open invoices and pays them to the cent.</summary>
    Exact,

    /// <summary>Names one open invoice and pays a part.</summary>
    Part,

    /// <summary>Names one open invoice and pays more than is open.</summary>
    Over,

    /// <summary>Was entered before.</summary>
    Known,

    /// <summary>Money going out.</summary>
    Outgoing,

    /// <summary>Names no invoice: to be entered by hand.</summary>
    ByHand,

    /// <summary>Names invoices on which nothing is open, or no longer after an earlier line of the list.</summary>
    Paid,

    /// <summary>Names several open invoices and does not come to their sum.</summary>
    Several,

    /// <summary>Names an invoice that is much younger than the payment.</summary>
    Early,

    /// <summary>The day lies in the future.</summary>
    Future,
}

/// <summary>What a bank line pays of one invoice.</summary>
public sealed record BankPart(Guid Invoice, string Number, decimal Amount);

/// <summary>A bank line and what it is.</summary>
/// <param name="Line">The line.</param>
/// <param name="Fit">What it is.</param>
/// <param name="Parts">What it pays of which invoice; empty when nothing is entered.</param>
/// <param name="Number">Numbers of the invoices that it names.</param>
public sealed record BankMatch(BankLine Line, BankFit Fit, IReadOnlyList<BankPart> Parts, string Number)
{
    /// <summary>Whether it will be entered.</summary>
    public bool IsEntered => Parts.Count > 0;

    /// <summary>Whether it pays no more than is open.</summary>
    public bool Fits => Fit is BankFit.Exact or BankFit.Part;
}

/// <summary>
/// Finds the invoices that a bank line pays: by their numbers, or their reminders', in the payer's words. A sum alone is never enough. Lines are looked
/// at one after the other, for each changes what is open for the next.
/// </summary>
internal sealed class BankMatching
{
    private readonly List<InvoiceRow> invoices;
    private readonly Dictionary<Guid, decimal> left;
    private readonly BankNumbers numbers;
    private readonly Dictionary<(DateOnly Day, string Note), List<decimal>> known;
    private readonly DateOnly today;

    private BankMatching(
        List<InvoiceRow> invoices,
        BankNumbers numbers,
        Dictionary<(DateOnly Day, string Note), List<decimal>> known,
        DateOnly today
    )
    {
        (this.invoices, this.numbers, this.known, this.today) = (invoices, numbers, known, today);
        left = invoices.ToDictionary(r => r.Id, r => r.Outstanding + r.Extras);
    }

    public static async Task<IReadOnlyList<BankMatch>> MatchAsync(
        ShopContext context,
        IReadOnlyList<BankLine> lines,
        DateOnly today,
        CancellationToken cancel
    )
    {
        var issued = await NumbersAsync(context, cancel);
        // Also what is paid: a line that names it is said to be for something paid.
        var named = lines.SelectMany(l => issued.In(l.Text)).ToHashSet();
        var rows = await InvoiceBalances.LoadAsync(context, new() { Only = named }, cancel);
        var (first, last) = lines.Count == 0 ? (today, today) : (lines.Min(l => l.Day), lines.Max(l => l.Day));
        var entered = await context
            .Payments.AsNoTracking()
            .Where(p => p.Means == "transfer" && p.Day >= first && p.Day <= last)
            .Select(p => new
            {
                p.Day,
                p.Amount,
                p.Note,
            })
            .ToListAsync(cancel);
        var before = entered.GroupBy(p => (p.Day, p.Note), p => p.Amount).ToDictionary(g => g.Key, g => g.ToList());
        var matching = new BankMatching([.. rows], issued, before, today);
        return [.. lines.Select(matching.One)];
    }

    /// <summary>The numbers of all documents, and nothing else of them: a payer may name any.</summary>
    private static async Task<BankNumbers> NumbersAsync(ShopContext context, CancellationToken cancel)
    {
        var all = await context
            .Documents.AsNoTracking()
            .Select(d => new
            {
                d.Id,
                d.Number,
                d.Kind,
                d.Corrects,
            })
            .ToListAsync(cancel);
        var leading = all.Where(d => d.Kind != DocumentWords.CreditNote)
            .Select(d => (d.Number, Invoice: d.Kind == Reminders.Kind ? d.Corrects : d.Id))
            .Where(d => d.Invoice is not null);
        return new BankNumbers(leading.Select(d => (d.Number, d.Invoice!.Value)), all.Select(d => d.Number));
    }

    private BankMatch One(BankLine line)
    {
        if (line.Amount < 0m)
            return new(line, BankFit.Outgoing, [], "");
        if (IsKnown(line))
            return new(line, BankFit.Known, [], "");
        if (line.Day > today)
            return new(line, BankFit.Future, [], "");
        var ids = numbers.In(line.Text);
        var named = invoices.Where(r => ids.Contains(r.Id)).ToList();
        // Who paid long before the invoice meant something else by these words.
        var likely = named.Where(r => line.Day >= r.Day.AddDays(-OpenItem.DaysBefore)).ToList();
        var open = likely.Where(r => left[r.Id] > 0m).ToList();
        return (named, likely, open) switch
        {
            ([], _, _) => new(line, BankFit.ByHand, [], ""),
            (_, [], _) => new(line, BankFit.Early, [], Names(named)),
            (_, _, []) => new(line, BankFit.Paid, [], Names(likely)),
            (_, _, [var row]) => Single(line, row),
            _ => All(line, open),
        };
    }

    /// <summary>Entered before: as it stands, or cut over the invoices that it paid together.</summary>
    private bool IsKnown(BankLine line)
    {
        if (!known.TryGetValue((line.Day, line.Text), out var amounts))
            return false;
        if (amounts.Remove(line.Amount))
            return true;
        if (amounts.Count < 2 || amounts.Sum() != line.Amount)
            return false;
        amounts.Clear();
        return true;
    }

    private BankMatch Single(BankLine line, InvoiceRow row)
    {
        var rest = left[row.Id];
        var fit =
            line.Amount == rest || line.Amount == rest - row.Extras ? BankFit.Exact
            : line.Amount < rest ? BankFit.Part
            : BankFit.Over;
        return Entered(line, fit, [new(row.Id, row.Number, line.Amount)]);
    }

    /// <summary>One payment for several invoices pays all of them, with the fees and interest asked for or without, or has to be cut by hand.</summary>
    private BankMatch All(BankLine line, List<InvoiceRow> open)
    {
        List<BankPart> asked = [.. open.Select(r => new BankPart(r.Id, r.Number, left[r.Id]))];
        List<BankPart> alone = [.. open.Select(r => new BankPart(r.Id, r.Number, left[r.Id] - r.Extras)).Where(p => p.Amount > 0m)];
        return line.Amount == asked.Sum(p => p.Amount) ? Entered(line, BankFit.Exact, asked)
            : line.Amount == alone.Sum(p => p.Amount) ? Entered(line, BankFit.Exact, alone)
            : new(line, BankFit.Several, [], Names(open));
    }

    private BankMatch Entered(BankLine line, BankFit fit, IReadOnlyList<BankPart> parts)
    {
        foreach (var part in parts)
            left[part.Invoice] -= part.Amount;
        return new(line, fit, parts, string.Join(", ", parts.Select(p => p.Number)));
    }

    private static string Names(IEnumerable<InvoiceRow> rows) => string.Join(", ", rows.Select(r => r.Number));
}

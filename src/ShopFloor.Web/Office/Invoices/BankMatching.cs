using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Invoicing;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>What a bank line is.</summary>
public enum BankFit
{
    /// <summary>Names one open invoice and pays it to the cent.</summary>
    Exact,

    /// <summary>Names one open invoice and pays a part.</summary>
    Part,

    /// <summary>Names one open invoice and pays more than is open.</summary>
    Over,

    /// <summary>Was entered before.</summary>
    Known,

    /// <summary>Money going out.</summary>
    Outgoing,

    /// <summary>Names no open invoice, or more than one: to be entered by hand.</summary>
    ByHand,

    /// <summary>The day lies in the future.</summary>
    Future,
}

/// <summary>A bank line and what it is.</summary>
public sealed record BankMatch(BankLine Line, BankFit Fit, Guid? Invoice, string Number)
{
    /// <summary>Whether it will be entered.</summary>
    public bool IsEntered => Fit is BankFit.Exact or BankFit.Part or BankFit.Over;
}

/// <summary>Finds the invoice that a bank line pays: by its number in the payer's words. A sum alone is never enough.</summary>
internal static class BankMatching
{
    public static async Task<IReadOnlyList<BankMatch>> MatchAsync(
        ShopContext context,
        IReadOnlyList<BankLine> lines,
        DateOnly today,
        CancellationToken cancel
    )
    {
        var open = (await InvoiceListView.BalancesAsync(context, order: null, cancel))
            .Where(r => r.Kind != Reminders.Kind && r.Kind != "credit note")
            .ToList();
        var left = open.ToDictionary(r => r.Id, r => r.Outstanding + r.Extras);
        var known = (
            await context
                .Payments.AsNoTracking()
                .Where(p => p.Means == "transfer")
                .Select(p => new
                {
                    p.Day,
                    p.Amount,
                    p.Note,
                })
                .ToListAsync(cancel)
        ).GroupBy(p => (p.Day, p.Amount, p.Note)).ToDictionary(g => g.Key, g => g.Count());
        List<BankMatch> matches = [];
        foreach (var line in lines)
            matches.Add(One(line, open, left, known, today));
        return matches;
    }

    private static BankMatch One(
        BankLine line,
        List<InvoiceRow> open,
        Dictionary<Guid, decimal> left,
        Dictionary<(DateOnly, decimal, string), int> known,
        DateOnly today
    )
    {
        if (line.Amount < 0m)
            return new(line, BankFit.Outgoing, null, "");
        var key = (line.Day, line.Amount, line.Text);
        if (known.GetValueOrDefault(key) > 0)
        {
            known[key]--;
            return new(line, BankFit.Known, null, "");
        }
        if (line.Day > today)
            return new(line, BankFit.Future, null, "");
        var words = Numbers(line.Text);
        // Who paid long before the invoice meant something else by these words.
        bool Names(InvoiceRow r) => words.Contains(r.Number) && left[r.Id] > 0m && line.Day >= r.Day.AddDays(-OpenItem.DaysBefore);
        if (open.Where(Names).Take(2).ToList() is not [var row])
            return new(line, BankFit.ByHand, null, "");
        var rest = left[row.Id];
        left[row.Id] = rest - line.Amount;
        var fit =
            line.Amount == rest || line.Amount == rest - row.Extras ? BankFit.Exact
            : line.Amount < rest ? BankFit.Part
            : BankFit.Over;
        return new(line, fit, row.Id, row.Number);
    }

    /// <summary>Words that may be numbers: letters, digits and hyphens, so that 2026-00017 is not taken for 2026-0001.</summary>
    private static HashSet<string> Numbers(string text) =>
        new(
            text.Split([' ', ',', ';', ':', '/', '(', ')', '.', '+', '\n', '\t'], StringSplitOptions.RemoveEmptyEntries),
            StringComparer.OrdinalIgnoreCase
        );
}

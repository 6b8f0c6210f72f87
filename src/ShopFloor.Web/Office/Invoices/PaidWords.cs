using ShopFloor.Data.Records;
using ShopFloor.Documents.Letters;
using ShopFloor.Domain.Invoicing;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>A document that is paid already when it is issued says how and when, and asks for no transfer.</summary>
public static class PaidWords
{
    /// <summary>What is left on account, the oldest first: what was entered wrong is gone with its correction, and invoices took the oldest.</summary>
    public static IReadOnlyList<PaidPart> Held(IEnumerable<PaymentRecord> payments)
    {
        var moves = payments.Where(p => p.Document is null).OrderBy(p => p.Day).ThenBy(p => p.Id).ToList();
        List<PaidPart> held = [.. moves.Where(p => p.Amount > 0m).Select(p => new PaidPart(p.Day, p.Means, p.Amount))];
        foreach (var back in moves.Where(p => p.Amount < 0m).OrderBy(p => p.Means == InvoiceTerms.Allocated))
            held = Less(held, back);
        return held;
    }

    /// <summary>The draft as it is when what was paid covers it; as it was when something is left to pay.</summary>
    /// <param name="draft">With what is paid.</param>
    /// <param name="held">What was paid, the oldest first; may be more.</param>
    /// <param name="reader">Who reads it.</param>
    public static InvoiceDraft On(InvoiceDraft draft, IReadOnlyList<PaidPart> held, LetterReader reader)
    {
        if (draft.Paid <= 0m || draft.Totals().Due != 0m)
            return draft;
        var parts = First(held, draft.Paid)
            .GroupBy(p => (p.Means, p.Day))
            .Select(g => new PaidPart(g.Key.Day, g.Key.Means, g.Sum(p => p.Amount)))
            .ToList();
        return draft with { DueDate = null, PaymentMeans = Means(parts, draft.PaymentMeans), Terms = PaidSentences.Of(parts, reader) };
    }

    /// <summary>All ways to pay of one document are of one code: of several none is named.</summary>
    private static IReadOnlyList<PaymentMeans> Means(List<PaidPart> parts, IReadOnlyList<PaymentMeans> account) =>
        parts.Select(p => p.Means).Distinct(StringComparer.Ordinal).ToList() switch
        {
            ["cash"] => [new PaymentMeans(PaymentMeansCodes.Cash)],
            ["card"] => [new PaymentMeans(PaymentMeansCodes.Card)],
            ["transfer"] => account,
            _ => [],
        };

    private static IEnumerable<PaidPart> First(IReadOnlyList<PaidPart> held, decimal sum)
    {
        foreach (var part in held)
        {
            var taken = Math.Min(part.Amount, sum);
            if (taken <= 0m)
                yield break;
            sum -= taken;
            yield return part with
            {
                Amount = taken,
            };
        }
    }

    private static List<PaidPart> Less(List<PaidPart> held, PaymentRecord back)
    {
        var left = -back.Amount;
        var turns = Enumerable.Range(0, held.Count);
        if (back.Means != InvoiceTerms.Allocated)
            turns = turns
                .OrderByDescending(i => held[i].Means == back.Means)
                .ThenByDescending(i => held[i].Amount == left)
                .ThenByDescending(i => i);
        foreach (var at in turns.ToList())
        {
            var taken = Math.Min(held[at].Amount, left);
            left -= taken;
            held[at] = held[at] with { Amount = held[at].Amount - taken };
        }
        return [.. held.Where(h => h.Amount > 0m)];
    }
}

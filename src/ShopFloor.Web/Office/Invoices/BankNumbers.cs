namespace ShopFloor.Web.Office.Invoices;

/// <summary>Finds the numbers of documents in a payer's words.</summary>
public sealed class BankNumbers
{
    private static readonly char[] Between = [' ', ',', ';', ':', '/', '(', ')', '.', '+', '\n', '\t'];

    private readonly Dictionary<string, Guid> invoices;
    private readonly HashSet<string> all;

    /// <param name="invoices">Numbers that lead to an invoice: its own, and those of its reminders.</param>
    /// <param name="all">Numbers of all documents.</param>
    public BankNumbers(IEnumerable<(string Number, Guid Invoice)> invoices, IEnumerable<string> all)
    {
        this.invoices = invoices.ToDictionary(n => n.Number, n => n.Invoice, StringComparer.OrdinalIgnoreCase);
        this.all = new HashSet<string>(all, StringComparer.OrdinalIgnoreCase);
    }

    /// <summary>
    /// The invoices named. Words are letters, digits and hyphens, so that 2026-00017 is not taken for 2026-0001; a letter before a number belongs to it
    /// where there is such a document, as in <c>D 2026-0006</c>, and so does the year when the bank lost the hyphen, as in <c>2026 0009</c>.
    /// </summary>
    public HashSet<Guid> In(string text)
    {
        var words = text.Split(Between, StringSplitOptions.RemoveEmptyEntries);
        HashSet<Guid> found = [];
        for (var i = 0; i < words.Length; i++)
        {
            var number = Joined(words, i).FirstOrDefault(all.Contains) ?? words[i];
            if (invoices.TryGetValue(number, out var invoice))
                found.Add(invoice);
        }
        return found;
    }

    /// <summary>What a word may be the end of, the longest first.</summary>
    private static IEnumerable<string> Joined(string[] words, int at)
    {
        if (at > 1 && words[at - 2].Length == 1)
            yield return $"{words[at - 2]}{words[at - 1]}-{words[at]}";
        if (at > 0)
            yield return $"{words[at - 1]}-{words[at]}";
        if (at > 0 && words[at - 1].Length == 1)
            yield return words[at - 1] + words[at];
    }
}

using ShopFloor.Domain;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Exchange;

/// <summary>Reads the cells of one row; what cannot be read is told with row and column.</summary>
internal sealed class CellReader(CsvRow row, List<RowFault> faults)
{
    private static readonly string[] Yes = ["yes", "y", "true", "1", "x"];
    private static readonly string[] No = ["", "no", "n", "false", "0"];
    private static readonly string[] Days = ["yyyy-MM-dd", "dd.MM.yyyy", "d.M.yyyy"];

    /// <summary>True while nothing was wrong.</summary>
    public bool IsGood { get; private set; } = true;

    /// <summary>Tells a fault.</summary>
    public void Fault(string column, string reason)
    {
        IsGood = false;
        faults.Add(new RowFault(row.Number, column, reason));
    }

    /// <summary>Tells the refusals of a rule, each at the column of its field.</summary>
    public void Faults(IEnumerable<Refusal> refusals, Func<string, string> columnOf)
    {
        foreach (var refusal in refusals)
            Fault(columnOf(refusal.Field ?? ""), refusal.Text);
    }

    /// <summary>A text.</summary>
    public string Text(string column, int most = 200, bool needed = false)
    {
        var text = row.Cells[column].Trim();
        if (needed && text.Length == 0)
            Fault(column, "This may not be empty.");
        if (text.Length > most)
            Fault(column, $"At most {most} characters.");
        return text;
    }

    /// <summary>A text; what is kept where the file has no such column. An empty cell of a column that is there empties it.</summary>
    public string TextOr(string column, string? kept, int most = 200) => row.Absent.Contains(column) ? kept ?? "" : Text(column, most);

    /// <summary>A number between the ends; null when the cell is empty and may be. What can mean two numbers is told.</summary>
    public decimal? Number(string column, decimal least, decimal most, bool needed = false) =>
        Read(column, NumberText.Clear, (least, most), needed);

    /// <summary>A whole number between the ends; the least where it cannot be read, which is told.</summary>
    public int Whole(string column, int least, int most)
    {
        var read = Number(column, least, most, needed: true) ?? least;
        if (read != decimal.Truncate(read))
            Fault(column, "Write a whole number.");
        return (int)Math.Clamp(decimal.Truncate(read), least, most);
    }

    /// <summary>An amount of money from 0; null when the cell is empty and may be. What can mean two amounts is told.</summary>
    public decimal? Money(string column, decimal most, bool needed = false) => Read(column, NumberText.Money, (0, most), needed);

    private decimal? Read(string column, Func<string, string?, Result<decimal>> reader, (decimal Least, decimal Most) ends, bool needed)
    {
        var text = row.Cells[column].Trim();
        if (text.Length == 0 && !needed)
            return null;
        var read = reader(text, null);
        if (!read.IsOk)
            Fault(column, read.Refusals[0].Text);
        else if (read.Value < ends.Least || read.Value > ends.Most)
            Fault(column, string.Create(CultureInfo.InvariantCulture, $"From {ends.Least:0.##} to {ends.Most:0.##}."));
        return read.IsOk ? read.Value : null;
    }

    /// <summary>Yes or no; empty is no.</summary>
    public bool Flag(string column)
    {
        var text = row.Cells[column].Trim().ToLowerInvariant();
        if (!Yes.Contains(text, StringComparer.Ordinal) && !No.Contains(text, StringComparer.Ordinal))
            Fault(column, "Write yes or no.");
        return Yes.Contains(text, StringComparer.Ordinal);
    }

    /// <summary>A day; null when the cell is empty and may be.</summary>
    public DateOnly? Day(string column, bool needed = false)
    {
        var text = row.Cells[column].Trim();
        if (text.Length == 0 && !needed)
            return null;
        if (DateOnly.TryParseExact(text, Days, CultureInfo.InvariantCulture, DateTimeStyles.None, out var day))
            return day;
        Fault(column, "Write a day like 2026-05-04.");
        return null;
    }

    /// <summary>One of some words.</summary>
    public T Word<T>(string column, IReadOnlyDictionary<string, T> words, T otherwise)
    {
        var text = row.Cells[column].Trim();
        if (words.TryGetValue(text, out var found))
            return found;
        Fault(column, $"One of: {string.Join(", ", words.Keys)}.");
        return otherwise;
    }
}

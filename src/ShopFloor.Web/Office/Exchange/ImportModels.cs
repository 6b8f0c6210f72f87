using ShopFloor.Web.Counter.Booking;

namespace ShopFloor.Web.Office.Exchange;

/// <summary>What a file holds.</summary>
public enum ImportKind
{
    /// <summary>Customers by their external id.</summary>
    Customers,

    /// <summary>Orders by their external id, a row for each line.</summary>
    Orders,

    /// <summary>Purchase prices of blanks, papers and cans by their code.</summary>
    Prices,
}

/// <summary>A file to be taken in.</summary>
/// <param name="Kind">What it holds.</param>
/// <param name="Text">The file's text.</param>
/// <param name="GoodRowsOnly">True: bad rows are left out and told; false: one bad row and nothing is taken.</param>
public sealed record ImportInput(ImportKind Kind, string Text, bool GoodRowsOnly);

/// <summary>Why a row is bad.</summary>
/// <param name="Row">Its line in the file.</param>
/// <param name="Column">Which column; empty when it is about the whole row.</param>
/// <param name="Reason">A sentence.</param>
public sealed record RowFault(int Row, string Column, string Reason);

/// <summary>What a file did, or would do.</summary>
/// <param name="Rows">Rows read.</param>
/// <param name="New">Things that are new.</param>
/// <param name="Changed">Things that change.</param>
/// <param name="Same">Things that are as the file says already.</param>
/// <param name="Faults">Why rows are bad.</param>
public sealed record ImportReport(int Rows, int New, int Changed, int Same, IReadOnlyList<RowFault> Faults)
{
    /// <summary>Columns of customers that the file has not got: who is known keeps what stands there.</summary>
    public IReadOnlyList<string> Kept { get; init; } = [];

    /// <summary>Orders that the rows make up; null: each row is a thing of its own.</summary>
    public int? Orders { get; init; }

    /// <summary>Orders with a bad row: they are left out whole.</summary>
    public int BadOrders { get; init; }

    /// <summary>Rows that are bad.</summary>
    public int BadRows => Faults.Select(f => f.Row).Distinct().Count();

    /// <summary>With the orders counted, in a file of orders: one of several lines has as many rows.</summary>
    internal ImportReport WithOrders(ImportKind kind, IReadOnlyList<CsvRow> rows)
    {
        if (kind != ImportKind.Orders)
            return this;
        var bad = Faults.Select(f => f.Row).ToHashSet();
        var orders = rows.GroupBy(OrderRows.KeyOf, StringComparer.Ordinal).ToList();
        return this with { Orders = orders.Count, BadOrders = orders.Count(o => o.Any(r => bad.Contains(r.Number))) };
    }
}

/// <summary>What judging a file found out; the rows are written by it, however long that takes.</summary>
internal sealed class ImportMemory
{
    private readonly Dictionary<int, JudgedLine> judged = [];
    private readonly JudgedLines lines = new();

    /// <summary>The shop as it was when the judging began.</summary>
    public ShopFacts? Shop { get; set; }

    /// <summary>The line of a row: judged when it is met first, which takes milliseconds, and the same ever after.</summary>
    /// <param name="row">Its line in the file.</param>
    /// <param name="judge">Judges it.</param>
    public JudgedLine Judged(int row, Func<JudgedLines, JudgedLine> judge)
    {
        if (!judged.TryGetValue(row, out var found))
            judged[row] = found = judge(lines);
        return found;
    }
}

/// <summary>Counts while rows are taken in.</summary>
internal sealed class ImportCount
{
    public int New { get; set; }
    public int Changed { get; set; }
    public int Same { get; set; }
    public List<RowFault> Faults { get; } = [];

    /// <summary>Adds what a portion did.</summary>
    public void Add(ImportReport portion)
    {
        (New, Changed, Same) = (New + portion.New, Changed + portion.Changed, Same + portion.Same);
        Faults.AddRange(portion.Faults);
    }

    /// <summary>What was counted.</summary>
    public ImportReport Report(int rows) => new(rows, New, Changed, Same, [.. Faults.OrderBy(f => f.Row)]);
}

using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>Which documents the list shows.</summary>
public enum InvoiceFilter
{
    /// <summary>Invoices with something left to pay, the oldest due first.</summary>
    Open,

    /// <summary>Invoices past their due day.</summary>
    Overdue,

    /// <summary>Everything, newest first.</summary>
    All,
}

/// <summary>How the list is ordered.</summary>
public enum InvoiceSort
{
    /// <summary>By the time of issue, newest first.</summary>
    Newest,

    /// <summary>By the due day, oldest first.</summary>
    Due,

    /// <summary>By what is still open, most first.</summary>
    Open,

    /// <summary>By customer, then newest first.</summary>
    Customer,
}

/// <summary>What a list is to show.</summary>
/// <param name="Search">Part of a number or a name; null: all.</param>
/// <param name="Filter">Which documents.</param>
/// <param name="Order">Number of an order; null: all.</param>
/// <param name="Page">From 1.</param>
/// <param name="Sort">How it is ordered; null: the newest first, what is open or overdue by its due day.</param>
public sealed record InvoiceQuestion(string? Search, InvoiceFilter Filter, int? Order, int Page, InvoiceSort? Sort = null)
{
    /// <summary>How it is ordered.</summary>
    public InvoiceSort By => Sort ?? (Filter == InvoiceFilter.All ? InvoiceSort.Newest : InvoiceSort.Due);
}

/// <summary>One document in a list.</summary>
/// <param name="Outstanding">Still to pay; 0 for credit notes and reminders, below 0 when too much came in.</param>
public sealed record InvoiceRow(
    Guid Id,
    string Kind,
    string Number,
    int OrderNumber,
    string Customer,
    DateOnly Day,
    DateOnly? Due,
    decimal Total,
    decimal Outstanding,
    string Currency
)
{
    /// <summary>Fee and interest that the last reminder asks for and nobody has paid.</summary>
    public decimal Extras { get; init; }

    /// <summary>When it was issued, UTC.</summary>
    public DateTimeOffset At { get; init; }

    /// <summary>The total as it counts: a credit note takes off.</summary>
    public decimal Signed => Kind == "credit note" ? -Total : Total;
}

/// <summary>A page of the list.</summary>
public sealed record InvoicePage(IReadOnlyList<InvoiceRow> Rows, int Count, int Page, int Pages, DateOnly Today)
{
    /// <summary>Sums of all documents that fit, on this page and on the others, by currency.</summary>
    public IReadOnlyList<ListSum> Sums { get; init; } = [];
}

/// <summary>What can be issued for one order.</summary>
public sealed record OrderInvoicing(
    OrderId Order,
    int Number,
    string Customer,
    decimal ReadyPieces,
    decimal OpenPieces,
    decimal DepositAsked,
    decimal OnAccount,
    string Currency,
    bool HasOpen,
    IReadOnlyList<(string Code, string Name)> TaxCodes
)
{
    /// <summary>What is still to come in for the order in all.</summary>
    public decimal ToCome { get; init; }

    /// <summary>Pieces that were spoiled or given back and never come.</summary>
    public int Lost { get; init; }

    /// <summary>Pieces that were made and paid back: nothing more is asked for them.</summary>
    public int PaidBack { get; init; }

    /// <summary>Pieces, spoiled or back on the shelf, in whose place others can still be made.</summary>
    public int ToRemake { get; init; }

    /// <summary>Numbers of deposit invoices that no invoice will take off any more.</summary>
    public IReadOnlyList<string> StrandedDeposits { get; init; } = [];

    /// <summary>Whether the order was called off.</summary>
    public bool IsOff { get; init; }

    /// <summary>The tax system changed between agreement and invoice; null: it did not.</summary>
    public SystemChange? SystemChange { get; init; }

    /// <summary>Ready pieces that were supplied under another tax system than the first of them: they follow on a document of their own.</summary>
    public decimal LeftForLater { get; init; }

    /// <summary>Other invoices of the customer on which too much was paid.</summary>
    public IReadOnlyList<Surplus> Surplus { get; init; } = [];
}

/// <summary>Reads documents with what is left to pay on them.</summary>
public sealed class InvoiceListView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    private const int PageSize = 50;

    /// <summary>A page of documents.</summary>
    public Task<InvoicePage> LoadAsync(string? search, InvoiceFilter filter, int? order, int page, CancellationToken cancel = default) =>
        LoadAsync(new InvoiceQuestion(search, filter, order, page), cancel);

    /// <summary>A page of documents.</summary>
    public async Task<InvoicePage> LoadAsync(InvoiceQuestion question, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var settings = await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel);
        var today = settings.Day(time.GetUtcNow());
        var scope = new BalanceScope
        {
            Order = question.Order,
            OpenOnly = question.Filter != InvoiceFilter.All,
            DueBefore = question.Filter == InvoiceFilter.Overdue ? today : null,
        };
        var rows = (await InvoiceBalances.LoadAsync(context, scope, cancel)).Where(r =>
            Fits(r, question.Search) && Fits(r, question.Filter, today)
        );
        var all = Sorted(rows, question.By).ToList();
        var pages = Math.Max(1, (all.Count + PageSize - 1) / PageSize);
        var at = Math.Clamp(question.Page, 1, pages);
        return new InvoicePage([.. all.Skip((at - 1) * PageSize).Take(PageSize)], all.Count, at, pages, today)
        {
            Sums = await ListSums.OfAsync(context, all, cancel),
        };
    }

    /// <summary>What can be issued for an order; null when there is no such order.</summary>
    public async Task<OrderInvoicing?> ForOrderAsync(int number, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var id = await context.Orders.Where(o => o.Number == number).Select(o => (OrderId?)o.Id).FirstOrDefaultAsync(cancel);
        if (id is not { } order || await OrderAccount.LoadAsync(context, order, time.GetUtcNow(), cancel) is not { } account)
            return null;
        var today = account.Settings.Day(time.GetUtcNow());
        return new OrderInvoicing(
            order,
            number,
            account.Order.Contact.Name,
            account.Lines.Sum(l => l.Ready),
            account.Lines.Sum(l => l.Open),
            account.IsOff || account.Lines.Any(l => l.Invoiced > 0m) || account.OpenDeposits.Count > 0 ? 0m : account.Order.Deposit,
            account.OnAccount,
            account.Order.Currency,
            account.Lines.Any(l => l.Open > 0m) || account.OpenCharges.Count > 0,
            [.. account.Settings.Invoices.Rates.DistinctBy(r => r.Code).Select(r => (r.Code, $"{r.Code}: {r.Name}"))]
        )
        {
            ToCome = account.ToCome,
            Lost = account.Lines.Sum(l => l.Lost - l.PaidBack),
            PaidBack = account.Lines.Sum(l => l.PaidBack),
            ToRemake = account.Lines.Sum(l => l.ToRemake),
            StrandedDeposits = [.. account.StrandedDeposits.Select(d => d.Number)],
            IsOff = account.IsOff,
            SystemChange = SupplySystem.ChangeOf(account, today),
            LeftForLater = SupplySystem.LeftForLater(account, today),
            Surplus = await SurplusView.OfAsync(context, account.Customer.Id, cancel),
        };
    }

    private static IEnumerable<InvoiceRow> Sorted(IEnumerable<InvoiceRow> rows, InvoiceSort by)
    {
        var newest = rows.OrderByDescending(r => r.At).ThenByDescending(r => r.Number, StringComparer.Ordinal);
        return by switch
        {
            InvoiceSort.Due => rows.OrderBy(r => r.Due is null).ThenBy(r => r.Due).ThenBy(r => r.Number, StringComparer.Ordinal),
            InvoiceSort.Open => newest.OrderByDescending(r => r.Outstanding),
            InvoiceSort.Customer => newest.OrderBy(r => r.Customer, StringComparer.CurrentCultureIgnoreCase),
            _ => newest,
        };
    }

    private static bool Fits(InvoiceRow row, string? search) =>
        string.IsNullOrWhiteSpace(search)
        || row.Number.Contains(search.Trim(), StringComparison.OrdinalIgnoreCase)
        || row.Customer.Contains(search.Trim(), StringComparison.CurrentCultureIgnoreCase);

    private static bool Fits(InvoiceRow row, InvoiceFilter filter, DateOnly today) =>
        filter switch
        {
            InvoiceFilter.Open => row.Outstanding != 0m,
            InvoiceFilter.Overdue => row.Outstanding > 0m && row.Due < today,
            _ => true,
        };
}

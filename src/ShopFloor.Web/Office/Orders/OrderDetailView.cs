using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Orders;

/// <summary>A piece of an order in the Office.</summary>
public sealed record PieceRow(
    PieceId Id,
    OrderLineId Line,
    int Number,
    string Code,
    string? Tray,
    PieceState State,
    string? Step,
    bool IsRunning,
    string? Reason,
    bool IsTest
)
{
    /// <summary>Its own text, or the one that all have; empty: none.</summary>
    public string Text { get; init; } = "";

    /// <summary>True when it can be given to the customer: checked good, and packed.</summary>
    public bool IsReady => State == PieceState.CheckedGood && !IsTest && Step is null;

    /// <summary>True when a promise still waits for it.</summary>
    public bool IsOpen => !IsTest && !State.IsEnd() && !IsReady;
}

/// <summary>A line of an order in the Office.</summary>
public sealed record LineRow(
    OrderLineId Id,
    int Number,
    int Quantity,
    PieceDescription Piece,
    string Material,
    Finish Finish,
    string Recipe,
    bool AsksForTest,
    PictureId? Picture,
    AgreedPrice Price,
    IReadOnlyList<string> Texts,
    bool LightLetters
);

/// <summary>A discount or a charge of an order.</summary>
/// <param name="IsDiscount">A discount; else a charge.</param>
/// <param name="Number">Its number among them.</param>
/// <param name="Name">As the customer reads it.</param>
/// <param name="Amount">Below zero for a discount.</param>
/// <param name="By">Who gave the discount.</param>
public sealed record ExtraRow(bool IsDiscount, int Number, string Name, decimal Amount, string By);

/// <summary>A deposit invoice of an order.</summary>
/// <param name="Number">Its number.</param>
/// <param name="Amount">What it came to: the deposit.</param>
/// <param name="Paid">What came in for it.</param>
public sealed record DepositRow(string Number, decimal Amount, decimal Paid);

/// <summary>An order in the Office.</summary>
public sealed record OrderDetail(
    OrderId Id,
    int Number,
    int Version,
    CustomerId Customer,
    Contact Contact,
    string Currency,
    DateTimeOffset BookedAt,
    DateTimeOffset PromisedAt,
    DateOnly? Wanted,
    bool IsRush,
    bool IsGift,
    bool IsCancelled,
    decimal DepositAsked,
    IReadOnlyList<ExtraRow> Extras,
    ProofState Proof,
    string Note,
    IReadOnlyList<Agreement> Agreements,
    IReadOnlyList<LineRow> Lines,
    IReadOnlyList<PieceRow> Pieces,
    TimeZoneInfo Zone
)
{
    /// <summary>Sum with tax after discounts, without charges.</summary>
    public decimal Gross { get; init; }

    /// <summary>A deposit is still to be asked for: not invoiced yet, and not everything else either.</summary>
    public bool AsksForDeposit { get; init; }

    /// <summary>Deposit invoices that stand; where there is one its amount is the deposit, whatever the price is now.</summary>
    public IReadOnlyList<DepositRow> Deposits { get; init; } = [];

    /// <summary>Lines whose picture is still to come.</summary>
    public IReadOnlyList<int> NoPicture { get; init; } = [];

    /// <summary>Of an order that was called off: paid, and to be paid back.</summary>
    public decimal ToGoBack { get; init; }

    /// <summary>Whether its transfers are printed: texts and pictures stay from then on.</summary>
    public bool IsPrinted { get; init; }

    /// <summary>Whether amounts are meant with tax.</summary>
    public bool WithTax { get; init; }

    /// <summary>What was agreed, invoiced and paid.</summary>
    public OrderMoneySheet Money { get; init; } = new(0m, 0m, 0m, 0m, []);

    /// <summary>The customer's own pieces that are still here though the order was called off, those that have come out well among them.</summary>
    public IReadOnlyList<PieceRow> GoingBack =>
        [
            .. Pieces.Where(p =>
                p.State == PieceState.GoingBack
                || (IsCancelled && p is { State: PieceState.CheckedGood, IsTest: false } && Lines.Any(l => l.Id == p.Line && l.Piece.IsOwn))
            ),
        ];

    /// <summary>Whether nothing is left to make, to hand over or to call off, and the customer has something of it.</summary>
    public bool IsOver => Readiness.IsOver([.. Pieces.Where(p => !p.IsTest).Select(p => p.State)]);

    /// <summary>An instant in the shop's own time.</summary>
    public DateTime Local(DateTimeOffset at) => TimeZoneInfo.ConvertTime(at, Zone).DateTime;
}

/// <summary>Reads one order whole.</summary>
public sealed class OrderDetailView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>By the number people say; null when there is none.</summary>
    public async Task<OrderDetail?> LoadAsync(int number, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var order = await context.Orders.AsNoTracking().FirstOrDefaultAsync(o => o.Number == number, cancel);
        if (order is null)
            return null;
        var settings = await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel);
        var account = (await OrderAccount.LoadAsync(context, order.Id, time.GetUtcNow(), cancel))!;
        var pieces = await context.Pieces.AsNoTracking().Where(p => p.Order == order.Id).ToListAsync(cancel);
        var recipeIds = order.Lines.Select(l => l.Recipe).Distinct().ToList();
        var recipes = await context.Recipes.AsNoTracking().Where(r => recipeIds.Contains(r.Id)).ToDictionaryAsync(r => r.Id, cancel);
        return new OrderDetail(
            order.Id,
            order.Number,
            order.Version,
            order.Customer,
            order.Contact,
            order.Currency,
            order.BookedAt,
            order.PromisedAt,
            order.Wanted,
            order.IsRush,
            order.IsGift,
            order.CancelledAt is not null,
            account.Deposit,
            [.. Extras(order, await NamesAsync(context, order, cancel))],
            order.Proof,
            order.Note,
            order.Agreements,
            [.. order.Lines.OrderBy(l => l.Number).Select(l => Row(l, settings, recipes))],
            [.. pieces.OrderBy(p => p.Number).Select(p => Row(p) with { Text = TextOf(order, p, pieces) })],
            settings.Zone
        )
        {
            Gross = order.Gross,
            AsksForDeposit = account is { IsOff: false, DepositInvoices.Count: 0 } && account.Lines.Any(l => l.Invoiced < l.Line.Quantity),
            Deposits = [.. account.DepositInvoices.Select(d => Row(d.Id, d.Document, account))],
            NoPicture = pieces.Exists(p => p.IsUnfinished) ? [.. order.WithoutPicture().Select(l => l.Number).Order()] : [],
            ToGoBack = account.ToGoBack,
            IsPrinted = order.PrintedAt is not null,
            WithTax = account.WithTax,
            Money = OrderMoneySheet.Of(account),
        };
    }

    private static IEnumerable<ExtraRow> Extras(Order order, Dictionary<string, string> names) =>
        order
            .Discounts.Select(d => new ExtraRow(true, d.Number, d.Words, -d.Amount, names.GetValueOrDefault(d.Given.By, "the program")))
            .Concat(order.Charges.Select(c => new ExtraRow(false, c.Number, c.Name, c.Amount, "")));

    private static async Task<Dictionary<string, string>> NamesAsync(ShopContext context, Order order, CancellationToken cancel)
    {
        var by = order.Discounts.Select(d => Guid.TryParse(d.Given.By, out var id) ? id : Guid.Empty).ToList();
        return by.Count == 0
            ? []
            : await context
                .Users.AsNoTracking()
                .Where(u => by.Contains(u.Id))
                .ToDictionaryAsync(u => u.Id.ToString(), u => u.DisplayName, StringComparer.Ordinal, cancel);
    }

    private static LineRow Row(OrderLine l, CurrentSettings settings, Dictionary<RecipeId, Recipe> recipes)
    {
        var recipe = recipes.GetValueOrDefault(l.Recipe);
        var name = recipe is null ? "" : $"{recipe.Name} {recipe.Version}";
        return new LineRow(
            l.Id,
            l.Number,
            l.Quantity,
            l.Piece,
            settings.Material(l.Piece.Material).Name,
            l.Finish,
            name,
            l.AsksForTest,
            l.Picture,
            l.Price,
            l.Texts,
            l.Placement.LightLetters
        );
    }

    private static string TextOf(Order order, Piece piece, List<Piece> pieces) =>
        order.Lines.FirstOrDefault(l => l.Id == piece.Line) is { } line
            ? PieceTexts.Of(line, piece, pieces.FindAll(p => p.Line == piece.Line && !p.IsTest)) ?? ""
            : "";

    private static DepositRow Row(Guid id, IssuedInvoice invoice, OrderAccount account) =>
        new(invoice.Reference.Number, invoice.Totals.Payable, account.Payments.Where(p => p.Document == id).Sum(p => p.Amount));

    private static PieceRow Row(Piece p) =>
        new(
            p.Id,
            p.Line,
            p.Number,
            p.Code,
            p.Tray,
            p.State,
            p.Current is { } c ? StepWords.Of(c.Settings) : null,
            p.Current?.State == WorkState.Running,
            p.Reason,
            p.IsTest
        );
}

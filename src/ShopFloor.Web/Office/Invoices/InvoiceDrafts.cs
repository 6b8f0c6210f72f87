using ShopFloor.Documents.Letters;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>How an invoice is wanted.</summary>
/// <param name="Note">Words on it; may be empty.</param>
/// <param name="TaxCode">Code of a rate for the whole document; null: as the settings say.</param>
/// <param name="PaidBy">Paid on the spot, <c>cash</c> or <c>card</c>; null: to be paid.</param>
/// <param name="IsInvoice">What is paid on the spot stands on an invoice, not on a receipt.</param>
public sealed record InvoiceWish(string Note = "", string? TaxCode = null, string? PaidBy = null, bool IsInvoice = false);

/// <summary>Makes drafts from an order. The price that was agreed is the price that is invoiced, to the cent, whatever the rates are now.</summary>
public static class InvoiceDrafts
{
    /// <summary>What is wanted, as it would be issued.</summary>
    public static Result<InvoiceDraft> Of(OrderAccount account, DateOnly day, IssueInput input) =>
        input.PaidBy is not (null or "cash" or "card")
            ? new Refusal("payment-means", "A receipt is paid in cash or by card.", nameof(input.PaidBy))
        : input.Deposit is { } amount ? Deposit(account, day, amount, new InvoiceWish("", input.TaxCode, input.PaidBy, IsInvoice: true))
        : Pieces(account, day, new InvoiceWish(input.Note, input.TaxCode, input.PaidBy, input.IsInvoice));

    /// <summary>An invoice for all pieces that are ready and not invoiced yet, with the open charges; deposits are taken off the final one.</summary>
    public static Result<InvoiceDraft> Pieces(OrderAccount order, DateOnly day, InvoiceWish wish)
    {
        var account = order.Supplied(day);
        var open = account.Lines.Where(l => l.Open > 0m).ToList();
        if (open.Count == 0 && account.OpenCharges.Count == 0)
            return Nothing(account);
        var lines = InvoiceDraftLines.Of(account, open, account.OpenCharges, wish.TaxCode, day);
        if (!lines.IsOk)
            return Result<InvoiceDraft>.Refused(lines.Refusals);
        var kind =
            wish is { PaidBy: not null, IsInvoice: false } ? DocumentKind.Receipt
            : account.IsFinal || account.IsOff ? DocumentKind.Invoice
            : DocumentKind.PartInvoice;
        var draft = Sent(lines.Value.Into(Frame(account, kind, day, wish.Note)), account);
        if (
            account.IsFinal && account.OpenDeposits.Where(d => d.Content.Settings.Scheme != draft.Settings.Scheme).ToList() is [_, ..] other
        )
            return OtherTax(other);
        if (account.IsFinal)
            draft = Deposits.Deduct(draft, account.OpenDeposits, d => Reader(account).Say("Deposit invoice {0}", d.Number));
        return draft.Totals().Payable < 0m ? BelowZero(draft, account) : Settled(draft, account, wish, day);
    }

    private static Refusal Nothing(OrderAccount account) =>
        account.StrandedDeposits is { Count: > 0 } left
            ? new Refusal(
                "deposit-stranded",
                $"Nothing of this order is left to invoice, and no invoice took {string.Join(", ", left.Select(d => d.Number))} off: take it back by a credit note, then pay back what was paid for it, or enter it for the invoice that is open."
            )
        : account.Lines.Any(l => l.Ready > 0) ? new Refusal("already-invoiced", "Every piece that is ready is invoiced already.")
        : new Refusal("nothing-ready", "No piece of this order is checked good or handed over yet: there is nothing to invoice.");

    private static Refusal OtherTax(IEnumerable<IssuedInvoice> deposits) =>
        new(
            "deposit-tax",
            $"{string.Join(", ", deposits.Select(d => d.Number))} was issued under another tax system, and this invoice cannot take it off: take it back by a credit note, keep what was paid for it for this order, then invoice without it."
        );

    // Goods that leave for another state of the Union go to the buyer, and the law asks where that is.
    private static InvoiceDraft Sent(InvoiceDraft draft, OrderAccount account) =>
        account.Customer.Address is not null && draft.Lines.Any(l => l.Tax.Category == TaxCategory.IntraUnion)
            ? draft with
            {
                Delivery = draft.Delivery! with { To = draft.Buyer!.Address },
            }
            : draft;

    /// <summary>What is owed to the customer is no invoice.</summary>
    private static Refusal BelowZero(InvoiceDraft draft, OrderAccount account)
    {
        var sum = string.Create(CultureInfo.InvariantCulture, $"{draft.Totals().Payable:0.00}");
        var deposits = string.Join(", ", account.OpenDeposits.Select(d => d.Number));
        return deposits.Length > 0
            ? new(
                "invoice-below-zero",
                $"This would come to {sum}: the deposit is more than what is left to invoice. Take {deposits} back by a credit note, then invoice without it; what was paid for it can be kept for this order, or is paid back."
            )
            : new(
                "invoice-below-zero",
                $"This would come to {sum}: what is owed to the customer is no invoice. Give it back by a credit note."
            );
    }

    private static InvoiceDraft LessPaid(InvoiceDraft draft, OrderAccount account) =>
        draft with
        {
            Paid = Math.Clamp(account.OnAccount, 0m, Math.Max(0m, draft.Totals().Payable)),
        };

    /// <summary>A deposit invoice, over the lines' tax groups; what is paid on account already is taken off what is to pay. Where no tax is charged, a
    /// deposit that was agreed with tax is owed without it, as the price is.</summary>
    private static Result<InvoiceDraft> Deposit(OrderAccount agreed, DateOnly day, decimal amount, InvoiceWish wish)
    {
        var (account, order) = (agreed.On(day), agreed.Order);
        if (account.IsOff)
            return new Refusal("order-off", "This order was called off: it asks for no deposit.");
        if (account.Lines.Any(l => l.Invoiced > 0m))
            return new Refusal("deposit-late", "Pieces of this order are invoiced already: a deposit comes before.");
        if (amount <= 0m || Money.Round(amount) != amount || amount > order.Gross)
            return new Refusal("deposit-amount", "A deposit is above 0 and at most the price of the order.", "Amount");
        var whole = account.Lines.Select(l => l with { Ready = l.Line.Quantity, Invoiced = 0m, SuppliedOn = [] }).ToList();
        var lines = InvoiceDraftLines.Of(account, whole, [], wish.TaxCode, day);
        if (!lines.IsOk)
            return Result<InvoiceDraft>.Refused(lines.Refusals);
        var frame = lines.Value.Into(Frame(account, DocumentKind.DepositInvoice, day, "")) with { Adjustments = [], Rounding = 0m };
        var withTax = frame.Settings.PricesIncludeTax;
        var owed = account.WithTax && !withTax ? Money.Round(amount * order.Net / order.Gross) : amount;
        var deposit = Deposits.Lines(
            DocumentTotals.Of(lines.Value.Lines, lines.Value.Adjustments).Groups,
            new Money(owed, frame.Settings.Currency),
            withTax,
            Reader(account).Say("Deposit on order {0}", order.Number.ToString(CultureInfo.InvariantCulture))
        );
        var draft = frame with { Lines = deposit.Lines };
        return Settled(withTax ? draft.Promising(deposit.Promised) : draft, account, wish, day);
    }

    /// <summary>What a line is called on documents. What the customer says of the piece is for the workshop and stands on no paper.</summary>
    public static string Name(OrderAccount account, OrderLine line) => Name(line.Piece, line.Finish, account.Settings, Reader(account));

    /// <summary>The same of a piece that nobody ordered yet.</summary>
    public static string Name(PieceDescription piece, Finish finish, CurrentSettings settings, LetterReader reader) =>
        $"{CustomerWords.Material(settings.Material(piece.Material), reader)}, {reader.Say(finish.Words().ToLowerInvariant())}";

    /// <summary>Size and whose piece it is.</summary>
    public static string Describe(OrderLine line, LetterReader reader) => Describe(line.Piece, reader);

    /// <summary>The same of a piece that nobody ordered yet.</summary>
    public static string Describe(PieceDescription piece, LetterReader reader) =>
        $"{Size(piece, reader)}, {reader.Say(piece.IsOwn ? "on your own piece" : "blank supplied by us")}";

    /// <summary>Width and height.</summary>
    public static string Size(OrderLine line, LetterReader reader) => Size(line.Piece, reader);

    private static string Size(PieceDescription piece, LetterReader reader) =>
        string.Create(reader.Culture, $"{piece.Width.Millimetres:0.#} × {piece.BoxHeight.Millimetres:0.#} mm");

    private static LetterReader Reader(OrderAccount account) => LetterReader.Of(account.Order.Language);

    private static InvoiceDraft Frame(OrderAccount account, DocumentKind kind, DateOnly day, string note)
    {
        var profile = account.Settings.Profile;
        return new InvoiceDraft(
            kind,
            InvoiceTerms.Tax(account.Settings) with
            {
                Currency = account.Order.Currency,
                PricesIncludeTax = account.WithTax,
            },
            InvoiceTerms.Seller(profile),
            InvoiceTerms.Buyer(account.Customer, account.Order.Contact, account.Settings),
            []
        )
        {
            DueDate = day.AddDays(profile.DueDays),
            PaymentMeans = InvoiceTerms.Means(profile),
            Delivery = kind == DocumentKind.DepositInvoice ? null : new Delivery(day),
            OrderCode = account.Order.Number.ToString(CultureInfo.InvariantCulture),
            Note = string.IsNullOrWhiteSpace(note) ? null : note.Trim(),
            Language = Reader(account).Language,
        };
    }

    /// <summary>The draft with what was paid for it before, and on the spot.</summary>
    private static InvoiceDraft Settled(InvoiceDraft draft, OrderAccount account, InvoiceWish wish, DateOnly day)
    {
        var reader = Reader(account);
        var less = LessPaid(draft, account);
        if (draft.Kind == DocumentKind.Receipt)
            return OnReceipt(less, wish.PaidBy, reader).RoundedForPayment(cash: wish.PaidBy == "cash");
        var rounded = less.RoundedForPayment(wish.PaidBy == "cash");
        var held = PaidWords.Held(account.Payments);
        if (wish.PaidBy is not { } means || rounded.Totals().Due is not (> 0m and var due))
            return PaidWords.On(rounded, held, reader);
        return PaidWords.On(rounded with { Paid = rounded.Paid + due }, [.. held, new PaidPart(day, means, due)], reader);
    }

    /// <summary>Paid on the spot there is nothing due and no account to pay to.</summary>
    private static InvoiceDraft OnReceipt(InvoiceDraft draft, string? paidBy, LetterReader reader) =>
        draft with
        {
            DueDate = null,
            PaymentMeans = [new PaymentMeans(paidBy == "cash" ? PaymentMeansCodes.Cash : PaymentMeansCodes.Card)],
            Terms = reader.Say(paidBy == "cash" ? "Paid in cash, with thanks." : "Paid by card, with thanks."),
        };
}

using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>Makes drafts from an order. The price that was agreed is the price that is invoiced, to the cent, whatever the rates are now.</summary>
public static class InvoiceDrafts
{
    /// <summary>An invoice for all pieces that are ready and not invoiced yet; deposits are taken off the final one.</summary>
    public static Result<InvoiceDraft> Pieces(OrderAccount account, DateOnly day, string note)
    {
        var open = account.Lines.Where(l => l.Open > 0m).ToList();
        if (open.Count == 0)
            return account.Lines.Any(l => l.Ready > 0)
                ? new Refusal("already-invoiced", "Every piece that is ready is invoiced already.")
                : new Refusal("nothing-ready", "No piece of this order is checked good or handed over yet: there is nothing to invoice.");
        var draft = Frame(account, account.IsFinal ? DocumentKind.Invoice : DocumentKind.PartInvoice, day, note);
        draft = draft.Settings.PricesIncludeTax
            ? Gross(account, draft, open)
            : draft with
            {
                Lines = [.. open.Select(l => Net(account, l))],
            };
        if (account.IsFinal)
            draft = Deposits.Deduct(draft, account.OpenDeposits, d => $"Deposit invoice {d.Number}");
        draft = draft.RoundedForPayment(cash: false);
        return draft with { Paid = Math.Clamp(account.OnAccount, 0m, Math.Max(0m, draft.Totals().Payable)) };
    }

    /// <summary>A deposit invoice, over the lines' tax groups.</summary>
    public static Result<InvoiceDraft> Deposit(OrderAccount account, DateOnly day, decimal amount)
    {
        var order = account.Order;
        if (account.Lines.Any(l => l.Invoiced > 0m))
            return new Refusal("deposit-late", "Pieces of this order are invoiced already: a deposit comes before.");
        if (amount <= 0m || Money.Round(amount) != amount || amount > order.Gross)
            return new Refusal("deposit-amount", "A deposit is above 0 and at most the price of the order.", "Amount");
        var frame = Frame(account, DocumentKind.DepositInvoice, day, "");
        var whole = account.Lines.Select(l => l with { Ready = l.Line.Quantity, Invoiced = 0m }).ToList();
        var lines = frame.Settings.PricesIncludeTax ? Gross(account, frame, whole).Lines : [.. whole.Select(l => Net(account, l))];
        var deposit = Deposits.Lines(
            lines,
            new Money(amount, frame.Settings.Currency),
            frame.Settings.PricesIncludeTax,
            $"Deposit on order {order.Number}"
        );
        var draft = frame with { Lines = deposit.Lines };
        return frame.Settings.PricesIncludeTax ? draft.Promising(deposit.Promised) : draft;
    }

    private static InvoiceDraft Frame(OrderAccount account, DocumentKind kind, DateOnly day, string note)
    {
        var profile = account.Settings.Profile;
        var isExempt = account.Order.Lines.Any(l => Kind(l.Price).Category == TaxCategory.Exempt);
        return new InvoiceDraft(
            kind,
            InvoiceTerms.Tax(profile) with
            {
                Currency = account.Order.Currency,
            },
            InvoiceTerms.Seller(profile),
            InvoiceTerms.Buyer(account.Customer, account.Order.Contact, profile),
            []
        )
        {
            DueDate = day.AddDays(profile.DueDays),
            PaymentMeans = InvoiceTerms.Means(profile),
            Delivery = kind == DocumentKind.DepositInvoice ? null : new Delivery(day),
            OrderCode = account.Order.Number.ToString(CultureInfo.InvariantCulture),
            Note = string.IsNullOrWhiteSpace(note) ? null : note.Trim(),
            Reasons = isExempt ? [new(TaxCategory.Exempt, null, "No VAT is charged: exempt.")] : [],
        };
    }

    private static InvoiceDraft Gross(OrderAccount account, InvoiceDraft frame, List<LineAccount> open)
    {
        var lines = open.Select(l => new GrossLine(
            OrderAccount.LineId(l.Line),
            Name(account, l.Line),
            l.Open,
            UnitCodes.Piece,
            l.Line.Price.Gross / l.Line.Quantity,
            Kind(l.Line.Price)
        )
        {
            Description = Describe(l.Line),
        });
        var net = GrossPrices.ToNet([.. lines]);
        return (frame with { Lines = net.Lines }).Promising(net.Promised);
    }

    /// <summary>The running share of the agreed net price, so that parts add up to the whole.</summary>
    private static InvoiceLine Net(OrderAccount account, LineAccount open)
    {
        var (price, quantity) = (open.Line.Price.Net, open.Line.Quantity);
        var net = Money.Round(price * (open.Invoiced + open.Open) / quantity) - Money.Round(price * open.Invoiced / quantity);
        return new InvoiceLine(
            OrderAccount.LineId(open.Line),
            Name(account, open.Line),
            open.Open,
            UnitCodes.Piece,
            0m,
            Kind(open.Line.Price)
        )
        {
            Description = Describe(open.Line),
        }.PricedAt(net);
    }

    /// <summary>The kind of tax agreed at booking; a rate of zero is an exempt shop.</summary>
    private static TaxKind Kind(AgreedPrice price) =>
        price.TaxPercent > 0m ? TaxKind.Standard(price.TaxPercent) : new TaxKind(TaxCategory.Exempt, 0m);

    private static string Name(OrderAccount account, OrderLine line)
    {
        var name = line.Piece.Note.Trim();
        var finish = line.Finish switch
        {
            Finish.ShowThrough => "show-through",
            Finish.WhiteGround => "white ground",
            Finish.VelvetMatt => "velvet matt",
            Finish.BehindGlass => "behind glass",
            _ => throw new ArgumentOutOfRangeException(nameof(line), line.Finish, "No such finish."),
        };
        return $"{(name.Length is > 0 and <= 200 ? name : account.Settings.Material(line.Piece.Material).Name)}, {finish}";
    }

    private static string Describe(OrderLine line) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"{line.Piece.Width.Millimetres:0.#} × {line.Piece.BoxHeight.Millimetres:0.#} mm, {(line.Piece.IsOwn ? "on your own piece" : "blank supplied by us")}"
        );
}

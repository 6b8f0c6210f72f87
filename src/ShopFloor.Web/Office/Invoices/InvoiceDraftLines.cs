using ShopFloor.Documents.Letters;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Quantities;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>Lines of a document with what they need on it.</summary>
/// <param name="Lines">Pieces first, then charges.</param>
/// <param name="Promised">The sum with tax that the customer was shown; null where prices are without.</param>
/// <param name="Reasons">Why no tax is charged, once for each category.</param>
internal sealed record InvoiceDraftLines(IReadOnlyList<InvoiceLine> Lines, decimal? Promised, IReadOnlyList<ExemptionReason> Reasons)
{
    /// <summary>Discounts, cut by the tax that their pieces fall under.</summary>
    public IReadOnlyList<DocumentAdjustment> Adjustments { get; init; } = [];

    /// <summary>The day of supply of the document's own pieces.</summary>
    public DateOnly SuppliedOn { get; init; }

    /// <summary>The lines of open pieces and charges.</summary>
    public static Result<InvoiceDraftLines> Of(
        OrderAccount account,
        IReadOnlyList<LineAccount> open,
        IReadOnlyList<OrderCharge> charges,
        string? code,
        DateOnly day
    )
    {
        var shares = open.Select(l => (Line: l, Shares: SupplyShare.Of(l, account, code, day))).ToList();
        // Charges go with the pieces that they stand beside.
        var supplied = SupplyShare.LastDay(open, day);
        var rate = ChargeRate(account, code, supplied);
        List<Refusal> faults = [.. shares.SelectMany(s => s.Shares.Refusals)];
        if (charges.Count > 0)
            faults.AddRange(rate.Refusals);
        if (faults.Count > 0)
            return Result<InvoiceDraftLines>.Refused([.. faults.Distinct()]);
        var parts = shares.SelectMany(s => s.Shares.Value.Select((share, n) => (s.Line, Share: share, Id: Id(s.Line.Line, n)))).ToList();
        var reasons = parts
            .Select(p => p.Share.Rate)
            .Concat(charges.Count > 0 ? [rate.Value] : [])
            .Select(r => r.Reason)
            .OfType<ExemptionReason>()
            .DistinctBy(r => r.Category)
            .ToList();
        // A price with tax that is not charged is no price: where the whole document is untaxed, the price without tax is what is owed.
        var gross = account.WithTax && (code is null || parts.Any(p => p.Share.Rate.Kind.IsTaxed));
        var discounts = account
            .Order.Discounts.SelectMany(d => Discounts(d, [.. parts.Select(p => (p.Line.Line, p.Share))], gross))
            .ToList();
        if (!gross)
            return new InvoiceDraftLines(
                [
                    .. parts.Select(p => Net(account, p.Line.Line, p.Share, p.Id)),
                    .. charges.Select(c => Charge(account, c, rate.Value, supplied)),
                ],
                null,
                reasons
            )
            {
                Adjustments = [.. discounts.Select(d => new DocumentAdjustment(new(IsCharge: false, d.Amount, d.Reason), d.Tax))],
                SuppliedOn = supplied,
            };
        var net = GrossPrices.ToNet(
            [
                .. parts.Select(p => Gross(account, p.Line.Line, p.Share, p.Id)),
                .. charges.Select(c => new GrossLine(OrderAccount.ChargeId(c), c.Name, 1m, UnitCodes.One, c.Amount, rate.Value.Kind)),
            ],
            discounts
        );
        return new InvoiceDraftLines(net.Lines, net.Promised, reasons) { Adjustments = net.Adjustments, SuppliedOn = supplied };
    }

    /// <summary>The draft with the lines.</summary>
    public InvoiceDraft Into(InvoiceDraft frame)
    {
        var outside = Lines.Any(l => l.Tax.Category == TaxCategory.OutsideScope);
        var draft = frame with
        {
            Seller = outside ? frame.Seller.WithoutVatId() : frame.Seller,
            Buyer = outside ? frame.Buyer! with { VatId = null } : frame.Buyer,
            Delivery = frame.Delivery is null ? null : new Delivery(SuppliedOn),
            Lines = Lines,
            Adjustments = Adjustments,
            Reasons = Reasons,
            Settings = frame.Settings with { PricesIncludeTax = Promised is not null },
        };
        return Promised is { } promised ? draft.Promising(promised) : draft;
    }

    /// <summary>What of a discount falls on these pieces, once for each kind of tax.</summary>
    private static IEnumerable<GrossDiscount> Discounts(
        OrderDiscount discount,
        IReadOnlyList<(OrderLine Line, SupplyShare Share)> parts,
        bool gross
    ) =>
        parts
            .SelectMany(p => discount.Shares.Where(s => s.Line == p.Line.Number).Select(s => (p.Line, p.Share, Discount: s)))
            .GroupBy(
                x => x.Share.Rate.Kind,
                x => x.Discount.Of(gross ? x.Discount.Gross : x.Discount.Net, x.Share.From, x.Share.Count, x.Line.Quantity)
            )
            .Select(g => new GrossDiscount(g.Sum(), g.Key, discount.Words))
            .Where(d => d.Amount != 0m);

    private static Result<TaxRate> ChargeRate(OrderAccount account, string? code, DateOnly day) =>
        account.Settings.Invoices.RateOn(code ?? account.Settings.Invoices.Use.Charges, day, account.Settings.Profile.TaxPercent);

    private static string Id(OrderLine line, int share) =>
        share == 0 ? OrderAccount.LineId(line) : string.Create(CultureInfo.InvariantCulture, $"{OrderAccount.LineId(line)}/{share + 1}");

    private static GrossLine Gross(OrderAccount account, OrderLine line, SupplyShare share, string id) =>
        new(id, InvoiceDrafts.Name(account, line), share.Count, UnitCodes.Piece, line.Price.Gross / line.Quantity, share.Rate.Kind)
        {
            Description = InvoiceDrafts.Describe(line, LetterReader.Of(account.Order.Language)),
        };

    /// <summary>The running share of the agreed net price, so that parts add up to the whole.</summary>
    private static InvoiceLine Net(OrderAccount account, OrderLine line, SupplyShare share, string id)
    {
        var (price, quantity) = (line.Price.Net, line.Quantity);
        var net = Money.Round(price * (share.From + share.Count) / quantity) - Money.Round(price * share.From / quantity);
        return new InvoiceLine(id, InvoiceDrafts.Name(account, line), share.Count, UnitCodes.Piece, 0m, share.Rate.Kind)
        {
            Description = InvoiceDrafts.Describe(line, LetterReader.Of(account.Order.Language)),
        }.PricedAt(net);
    }

    /// <summary>A charge agreed with tax is owed without it where none is charged.</summary>
    private static InvoiceLine Charge(OrderAccount account, OrderCharge charge, TaxRate rate, DateOnly day)
    {
        var contained = ChargeRate(account, null, day) is { IsOk: true } usual
            ? usual.Value.Kind.Percent
            : account.Settings.Profile.TaxPercent;
        var net = account.WithTax ? Money.Round(charge.Amount / (1 + contained / 100)) : charge.Amount;
        return new InvoiceLine(OrderAccount.ChargeId(charge), charge.Name, 1m, UnitCodes.One, net, rate.Kind);
    }
}

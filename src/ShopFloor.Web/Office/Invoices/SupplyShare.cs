using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>Pieces of one line that go onto an invoice at one rate of tax.</summary>
/// <param name="From">Pieces of the line invoiced before these.</param>
/// <param name="Count">How many.</param>
/// <param name="Rate">The rate in force on the day they were supplied.</param>
public sealed record SupplyShare(decimal From, decimal Count, TaxRate Rate)
{
    /// <summary>
    /// The open pieces of a line, cut where the rate changes between the days they were handed over. The ones handed over first are taken to be
    /// invoiced first; a piece that is still here counts as supplied today.
    /// </summary>
    /// <param name="open">The line.</param>
    /// <param name="account">Its order.</param>
    /// <param name="code">Code of a rate chosen for the whole document; null: by what the line is.</param>
    /// <param name="day">Today, shop-local.</param>
    /// <returns>The shares, or the refusal that a day has no rate or two.</returns>
    public static Result<IReadOnlyList<SupplyShare>> Of(LineAccount open, OrderAccount account, string? code, DateOnly day)
    {
        var settings = account.Settings.Invoices;
        if (settings.Rates.Count == 0)
            return new SupplyShare[] { new(open.Invoiced, open.Open, AgreedAtBooking(open, account)) };
        var use = code ?? (open.Line.Piece.IsOwn ? settings.Use.OwnPieces : settings.Use.Blanks);
        List<SupplyShare> shares = [];
        foreach (var (supplied, n) in Days(open, day).Select((d, n) => (d, n)))
        {
            var rate = settings.RateOn(use, supplied, account.Settings.Profile.TaxPercent);
            if (!rate.IsOk)
                return Result<IReadOnlyList<SupplyShare>>.Refused(rate.Refusals);
            if (shares is [.., var last] && last.Rate.Kind == rate.Value.Kind)
                shares[^1] = last with { Count = last.Count + 1 };
            else
                shares.Add(new SupplyShare(open.Invoiced + n, 1, rate.Value));
        }
        return shares;
    }

    /// <summary>The day on which the last of these pieces was supplied; today where one is still here, or there is none.</summary>
    /// <param name="open">The lines of a document.</param>
    /// <param name="day">Today, shop-local.</param>
    public static DateOnly LastDay(IEnumerable<LineAccount> open, DateOnly day) =>
        open.SelectMany(l => Days(l, day)).Select(d => (DateOnly?)d).Max() ?? day;

    // What was handed over first is taken to be invoiced first.
    internal static IEnumerable<DateOnly> Days(LineAccount open, DateOnly day)
    {
        var supplied = open.SuppliedOn.Order().Skip((int)open.Invoiced).ToList();
        for (var n = 0; n < open.Open; n++)
            yield return n < supplied.Count ? supplied[n] : day;
    }

    /// <summary>
    /// Where the owner keeps no list, the kind of tax agreed at booking; a rate of zero is an exempt shop. Where there was no tax at all then, the
    /// workshop's rate of now.
    /// </summary>
    private static TaxRate AgreedAtBooking(LineAccount open, OrderAccount account) =>
        account
            .Settings.Invoices.RateOn(
                "normal",
                DateOnly.MinValue,
                account.IsAgreedUntaxed ? account.Settings.Profile.TaxPercent : open.Line.Price.TaxPercent
            )
            .Value;
}

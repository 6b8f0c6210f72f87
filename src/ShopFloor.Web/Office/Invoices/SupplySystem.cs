using ShopFloor.Domain.Invoicing;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>An order that was agreed under another tax system than the one that its invoice goes by.</summary>
/// <param name="Agreed">What the tax was called when it was agreed; empty: there was none.</param>
/// <param name="Then">What it is called on the invoice; empty: there is none.</param>
/// <param name="From">First day of that system.</param>
public sealed record SystemChange(string Agreed, string Then, DateOnly From);

/// <summary>The tax system that documents of an order go by: that of the day of supply.</summary>
internal static class SupplySystem
{
    /// <summary>
    /// The account as its next document is made: under the system that held when the first of its open pieces was supplied. Pieces that were supplied
    /// under a later one are left for a document of their own.
    /// </summary>
    /// <param name="account">The order.</param>
    /// <param name="day">Today, shop-local.</param>
    public static OrderAccount Supplied(this OrderAccount account, DateOnly day)
    {
        var days = account.Lines.SelectMany(l => SupplyShare.Days(l, day)).DefaultIfEmpty(day);
        var system = account.Settings.Invoices.SystemOn(days.Min());
        return account.Under(system) with { Lines = [.. account.Lines.Select(l => Cut(account, l, system, day))] };
    }

    /// <summary>The account under the system of a day.</summary>
    public static OrderAccount On(this OrderAccount account, DateOnly day) => account.Under(account.Settings.Invoices.SystemOn(day));

    /// <summary>Open pieces that the next document leaves for one of their own.</summary>
    public static decimal LeftForLater(OrderAccount account, DateOnly day) =>
        account.Lines.Sum(l => l.Open) - account.Supplied(day).Lines.Sum(l => l.Open);

    /// <summary>The change of system between the agreement and the invoice of what is still to invoice; null: there is none.</summary>
    /// <param name="account">The order.</param>
    /// <param name="today">Shop-local.</param>
    public static SystemChange? ChangeOf(OrderAccount account, DateOnly today)
    {
        if (!account.HasToInvoice)
            return null;
        var settings = account.Settings.Invoices;
        var agreed = settings.SystemOn(account.Settings.Day(account.Order.BookedAt));
        var promised = account.Settings.Day(account.Order.PromisedAt);
        var isToCome = account.Lines.Any(l => l.Invoiced + l.Open < l.Whole) || account.Lines.All(l => l.Open == 0m);
        var wasTaxed = account.Lines.Any(l => l.Line.Price.TaxPercent > 0m);
        return account
            .Lines.SelectMany(l => SupplyShare.Days(l, today))
            .Concat(isToCome ? [promised > today ? promised : today] : [])
            .Order()
            .Select(settings.SystemOn)
            .Where(s => s.Scheme != agreed.Scheme || (s.Scheme == TaxScheme.None && wasTaxed))
            .Select(s => new SystemChange(agreed.Scheme == TaxScheme.None && wasTaxed ? "tax" : agreed.Name, s.Name, s.From))
            .FirstOrDefault();
    }

    private static OrderAccount Under(this OrderAccount account, TaxSystem system)
    {
        var agreed = account.Settings.Invoices.SystemOn(account.Settings.Day(account.Order.BookedAt));
        return account with
        {
            Settings = account.Settings.TaxedOn(system.From),
            IsAgreedUntaxed = agreed.Scheme == TaxScheme.None && system.Scheme != TaxScheme.None,
        };
    }

    private static LineAccount Cut(OrderAccount account, LineAccount line, TaxSystem system, DateOnly day)
    {
        var fit = SupplyShare.Days(line, day).Count(d => account.Settings.Invoices.SystemOn(d) == system);
        return fit < line.Open ? line with { Ready = (int)line.Invoiced + fit } : line;
    }
}

namespace ShopFloor.Domain.Invoicing;

/// <summary>A tax system with the day from which it held.</summary>
/// <param name="From">First day; <see cref="DateOnly.MinValue"/>: ever since.</param>
/// <param name="Scheme">The system.</param>
/// <param name="Rounding">Where the tax was rounded.</param>
/// <param name="Label">What it was called on paper.</param>
public sealed record TaxSystem(DateOnly From, TaxScheme Scheme, TaxRounding Rounding, string Label)
{
    /// <summary>What people call it; empty where there was no tax.</summary>
    public string Name => Scheme == TaxScheme.None ? "" : Label;

    internal bool IsLike(TaxSystem other) => (Scheme, Rounding, Label) == (other.Scheme, other.Rounding, other.Label);
}

/// <summary>Tax systems follow one another by days: the day of supply says which one a document goes by.</summary>
public static class TaxSystems
{
    /// <summary>The system that was entered last, with its first day.</summary>
    public static TaxSystem Last(this InvoiceSettings settings) =>
        new(settings.SchemeFrom ?? DateOnly.MinValue, settings.Scheme, settings.Rounding, settings.TaxLabel);

    /// <summary>The system that holds on a day.</summary>
    /// <param name="settings">All that was entered.</param>
    /// <param name="day">Day of supply, shop-local.</param>
    public static TaxSystem SystemOn(this InvoiceSettings settings, DateOnly day)
    {
        var last = settings.Last();
        return last.From <= day
            ? last
            : settings.Before.Where(s => s.From <= day).MaxBy(s => s.From) ?? settings.Before.MinBy(s => s.From) ?? last;
    }

    /// <summary>The settings as they hold on a day, as if there had never been another system.</summary>
    public static InvoiceSettings On(this InvoiceSettings settings, DateOnly day)
    {
        if (settings.Before.Count == 0)
            return settings;
        var system = settings.SystemOn(day);
        return settings with
        {
            Scheme = system.Scheme,
            Rounding = system.Rounding,
            TaxLabel = system.Label,
            SchemeFrom = null,
            Before = [],
        };
    }

    /// <summary>
    /// New settings with the systems that held before them. What begins later than the new system is gone; so is one that had not begun, and one
    /// that is only given another first day.
    /// </summary>
    /// <param name="next">As entered.</param>
    /// <param name="former">What was kept until now.</param>
    /// <param name="today">Shop-local.</param>
    public static InvoiceSettings After(this InvoiceSettings next, InvoiceSettings former, DateOnly today)
    {
        if (next.SchemeFrom is not { } from)
            return next with { Before = [] };
        var (last, entered) = (former.Last(), next.Last());
        var held = last.From <= today && !last.IsLike(entered) ? [.. former.Before, last] : former.Before;
        return next with { Before = [.. held.Where(s => s.From < from).OrderBy(s => s.From)] };
    }

    /// <summary>Whether a change without a first day says of days gone by that another system held on them.</summary>
    public static bool ChangesThePast(this InvoiceSettings next, InvoiceSettings former) =>
        next.SchemeFrom is null && (next.Scheme != former.Scheme || former.Before.Any(s => s.Scheme != next.Scheme));
}

using ShopFloor.Web.Counter.Booking;

namespace ShopFloor.Web.Counter.Intake;

/// <summary>What an order costs more when it is done first, and whether that brings anything.</summary>
/// <param name="First">Done first.</param>
/// <param name="InTurn">The same in its turn; null until it is known.</param>
/// <param name="WithTax">The shop shows its prices with tax.</param>
public sealed record RushOffer(OrderQuote First, OrderQuote? InTurn, bool WithTax)
{
    /// <summary>The difference as the customer is shown prices; null until the other price is known.</summary>
    public decimal? Added => InTurn is { Gross: not null } ? Total(First) - Total(InTurn) : null;

    /// <summary>What the surcharge alone comes to. The parts of a price are without tax; rounding of the whole makes the sum inexact.</summary>
    public decimal About =>
        First.Lines.SelectMany(l => l.Price?.Parts ?? []).Where(p => p.Code == "rush").Sum(p => p.PerLine.Amount)
        * (WithTax ? 1 + First.TaxPercent / 100 : 1);

    /// <summary>True when the order is ready as soon in its turn.</summary>
    public bool IsForNothing => InTurn?.PromisedAt is { } turn && First.PromisedAt is { } first && turn <= first;

    /// <summary>What a quote that has a price comes to, as the customer is shown prices.</summary>
    public decimal Total(OrderQuote quote) => quote.Shown(WithTax)!.Value;
}

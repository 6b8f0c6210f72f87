namespace ShopFloor.Domain.Quantities;

/// <summary>An amount of money in one currency. Never rounded by arithmetic; <see cref="Rounded"/> is the only place that rounds.</summary>
/// <param name="Amount">In the currency's main unit, any sign, any number of decimals.</param>
/// <param name="Currency">ISO 4217 letters, e.g. <c>EUR</c>.</param>
public readonly record struct Money(decimal Amount, string Currency)
{
    // ISO 4217, minor unit 0.
    private static readonly HashSet<string> WithoutCents =
    [
        .. "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF".Split(' '),
    ];

    /// <summary>Nothing, in that currency.</summary>
    public static Money Zero(string currency) => new(0m, currency);

    /// <summary>Digits after the point of the currency's smallest coin (ISO 4217; three-digit currencies are not offered).</summary>
    public static int MinorDigits(string currency) => WithoutCents.Contains(currency) ? 0 : 2;

    /// <summary>To the currency's smallest coin, half away from zero, so that a credit mirrors its invoice.</summary>
    public Money Rounded() => this with { Amount = Round(Amount, MinorDigits(Currency)) };

    /// <summary>The one rounding of money: half away from zero.</summary>
    /// <param name="amount">Any amount.</param>
    /// <param name="digits">Digits after the point, 0 to 28.</param>
    public static decimal Round(decimal amount, int digits = 2) => Math.Round(amount, digits, MidpointRounding.AwayFromZero);

    /// <summary>Sum.</summary>
    /// <exception cref="InvalidOperationException">The currencies differ.</exception>
    public static Money operator +(Money a, Money b) => new(a.Amount + b.Amount, Same(a, b));

    /// <summary>Difference.</summary>
    /// <exception cref="InvalidOperationException">The currencies differ.</exception>
    public static Money operator -(Money a, Money b) => new(a.Amount - b.Amount, Same(a, b));

    /// <summary>The other sign.</summary>
    public static Money operator -(Money a) => a with { Amount = -a.Amount };

    /// <summary>A multiple.</summary>
    public static Money operator *(Money a, decimal factor) => a with { Amount = a.Amount * factor };

    /// <summary>Amount and currency in the invariant culture, e.g. <c>12.50 EUR</c>.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Amount:0.00##} {Currency}");

    private static string Same(Money a, Money b) =>
        string.Equals(a.Currency, b.Currency, StringComparison.Ordinal)
            ? a.Currency
            : throw new InvalidOperationException($"{a.Currency} and {b.Currency} cannot be added or compared.");
}

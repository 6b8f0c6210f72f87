namespace ShopFloor.Domain.Quantities;

/// <summary>A length in whole micrometres, exact; at least zero and at most 100 m.</summary>
public readonly record struct Length : IComparable<Length>
{
    /// <summary>The largest length that makes sense in a workshop: 100 m.</summary>
    public const long MaxMicrometres = 100_000_000;

    /// <summary>Micrometres in an inch: exactly 25.4 mm (international inch, 1959).</summary>
    public const long MicrometresPerInch = 25_400;

    private Length(long micrometres) => Micrometres = micrometres;

    /// <summary>Whole micrometres.</summary>
    public long Micrometres { get; }

    /// <summary>Millimetres, exact.</summary>
    public decimal Millimetres => Micrometres / 1000m;

    /// <summary>Metres.</summary>
    public double Metres => Micrometres / 1e6;

    /// <summary>Inches, to the nearest ten-thousandth.</summary>
    public decimal Inches => Math.Round(Micrometres / (decimal)MicrometresPerInch, 4, MidpointRounding.AwayFromZero);

    /// <summary>No length.</summary>
    public static Length Zero => new(0);

    /// <summary>From whole micrometres.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Negative or over 100 m.</exception>
    public static Length FromMicrometres(long micrometres) =>
        micrometres is >= 0 and <= MaxMicrometres
            ? new Length(micrometres)
            : throw new ArgumentOutOfRangeException(nameof(micrometres), micrometres, "A length is between 0 and 100 m.");

    /// <summary>From millimetres, rounded to the nearest micrometre, half away from zero.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Negative or over 100 m.</exception>
    public static Length FromMillimetres(decimal millimetres) =>
        millimetres is >= 0 and <= MaxMicrometres / 1000m
            ? new Length((long)Math.Round(millimetres * 1000m, MidpointRounding.AwayFromZero))
            : throw new ArgumentOutOfRangeException(nameof(millimetres), millimetres, "A length is between 0 and 100 m.");

    /// <inheritdoc />
    public int CompareTo(Length other) => Micrometres.CompareTo(other.Micrometres);

    /// <summary>Sum.</summary>
    public static Length operator +(Length a, Length b) => FromMicrometres(a.Micrometres + b.Micrometres);

    /// <summary>Shorter.</summary>
    public static bool operator <(Length a, Length b) => a.Micrometres < b.Micrometres;

    /// <summary>Longer.</summary>
    public static bool operator >(Length a, Length b) => a.Micrometres > b.Micrometres;

    /// <summary>Shorter or equal.</summary>
    public static bool operator <=(Length a, Length b) => a.Micrometres <= b.Micrometres;

    /// <summary>Longer or equal.</summary>
    public static bool operator >=(Length a, Length b) => a.Micrometres >= b.Micrometres;

    /// <summary>Millimetres in the invariant culture, e.g. <c>12.5 mm</c>.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Millimetres:0.###} mm");
}

namespace ShopFloor.Data.Records;

/// <summary>The last number given in a series; one row a series, changed only inside the transaction that uses the number.</summary>
public sealed class SeriesCounter
{
    private SeriesCounter() { }

    /// <summary>A series that has given none yet.</summary>
    public SeriesCounter(string series, long last) => (Series, Last) = (series, last);

    /// <summary>Which: <c>order</c>, <c>piece</c>, <c>invoice-2026</c> …</summary>
    public string Series { get; private set; } = "";

    /// <summary>Last number given.</summary>
    public long Last { get; private set; }

    /// <summary>Gives the next.</summary>
    public long Next() => ++Last;
}

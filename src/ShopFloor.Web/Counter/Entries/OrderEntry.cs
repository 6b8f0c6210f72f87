using ShopFloor.Domain;

namespace ShopFloor.Web.Counter.Entries;

/// <summary>
/// An order while it is being entered: everything as typed, so that nothing is lost however wrong it is. <see cref="EntryReading"/> makes the
/// order of it.
/// </summary>
public sealed record OrderEntry
{
    /// <summary>Id of the one command that books this: made with the draft, so that a double tap books once.</summary>
    public Guid BookCommand { get; init; }

    /// <summary>The lines, at least one.</summary>
    public IReadOnlyList<LineEntry> Lines { get; init; } = [new()];

    /// <summary>Index of the line that is being entered.</summary>
    public int At { get; init; }

    /// <summary>Index of the line for which a phone was shown its code; below zero: it was taken out since. Null: none was shown.</summary>
    public int? PhoneAt { get; init; }

    /// <summary>What bare numbers are in.</summary>
    public LengthUnit Unit { get; init; }

    /// <summary>A known customer that a clerk found.</summary>
    public CustomerId? Customer { get; init; }
    public string Name { get; init; } = "";
    public string Email { get; init; } = "";
    public string Phone { get; init; } = "";
    public bool ContactAgreed { get; init; }
    public bool RightsAccepted { get; init; }
    public bool RiskAccepted { get; init; }

    /// <summary>Stamps of the coarse pictures that the customer was told of, with semicolons between; another picture, size or framing is not that any more.</summary>
    public string CoarseTold { get; init; } = "";

    /// <summary>Whether the customer was told of the picture with this stamp.</summary>
    public bool IsTold(string stamp) => CoarseTold.Split(';').Contains(stamp, StringComparer.Ordinal);

    /// <summary>The customer was told of the picture with this stamp, or was not.</summary>
    public OrderEntry Told(string stamp, bool on) =>
        this with
        {
            CoarseTold = string.Join(
                ';',
                CoarseTold
                    .Split(';', StringSplitOptions.RemoveEmptyEntries)
                    .Where(s => s != stamp)
                    .Concat(on ? [stamp] : Enumerable.Empty<string>())
            ),
        };

    /// <summary>Wanted day as the browser's date field gives it (yyyy-MM-dd), or what was typed there.</summary>
    public string Wanted { get; init; } = "";
    public bool IsRush { get; init; }

    /// <summary>Somebody of the workshop chose today's price although an offer of the entry holds.</summary>
    public bool TodaysPrice { get; init; }
    public bool IsGift { get; init; }
    public string Note { get; init; } = "";

    /// <summary>Fingerprints of the prices shown last, line by line.</summary>
    public IReadOnlyList<string> ShownPrices { get; init; } = [];

    /// <summary>The day shown last beside them.</summary>
    public DateOnly? ShownDay { get; init; }

    /// <summary>The line that is being entered.</summary>
    public LineEntry Line => Lines[At];

    /// <summary>With the line that is being entered changed.</summary>
    public OrderEntry WithLine(Func<LineEntry, LineEntry> change) =>
        this with
        {
            Lines = [.. Lines.Select((l, i) => i == At ? change(l) : l)],
        };

    /// <summary>With bare numbers in another unit on the line that is being entered; what was entered of the others stays the length it was.</summary>
    public OrderEntry In(LengthUnit unit) =>
        unit == Unit ? this : this with { Unit = unit, Lines = [.. Lines.Select((l, i) => i == At ? l : l.WithUnit(Unit))] };

    /// <summary>With one more line, which is then the one being entered.</summary>
    public OrderEntry Adding(LineEntry line) => this with { Lines = [.. Lines, line], At = Lines.Count };

    /// <summary>Without a line; the last one is emptied instead.</summary>
    public OrderEntry Without(int index)
    {
        IReadOnlyList<LineEntry> rest = [.. Lines.Where((_, i) => i != index)];
        return this with
        {
            Lines = rest.Count == 0 ? [new()] : rest,
            At = Math.Clamp(At > index ? At - 1 : At, 0, Math.Max(0, rest.Count - 1)),
            PhoneAt =
                PhoneAt == index ? -1
                : PhoneAt > index ? PhoneAt - 1
                : PhoneAt,
        };
    }
}

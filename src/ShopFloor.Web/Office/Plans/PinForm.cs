using ShopFloor.Domain;
using ShopFloor.Web.Background.Plans;

namespace ShopFloor.Web.Office.Plans;

/// <summary>What stands in the fields of the pin form, and how it is read.</summary>
public sealed class PinForm
{
    /// <summary>Code of the piece, as typed.</summary>
    public string Piece { get; set; } = "";

    /// <summary>The step chosen; 0: none yet.</summary>
    public int Step { get; set; }

    /// <summary>What the pin asks for.</summary>
    public PinKind Kind { get; set; } = PinKind.NotBefore;

    /// <summary>Day and time by the shop's clock, as the browser writes it.</summary>
    public string When { get; set; } = "";

    /// <summary>Code of the other piece, as typed.</summary>
    public string With { get; set; } = "";

    /// <summary>The pin; a refusal names its field.</summary>
    /// <param name="zone">The shop's zone.</param>
    public Result<PinInput> Read(TimeZoneInfo zone)
    {
        if (Step == 0)
            return new Refusal("pin-step", "Choose the step.", "step");
        DateTimeOffset? when = null;
        if (Kind != PinKind.With && When.Length > 0)
        {
            if (!DateTime.TryParse(When, CultureInfo.InvariantCulture, DateTimeStyles.None, out var local))
                return new Refusal("pin-when", "This is no day and time.", "when");
            when = DayTimes.Utc(DateOnly.FromDateTime(local), TimeOnly.FromDateTime(local), zone);
        }
        return new PinInput(Code(Piece), Step, Kind, when, Kind == PinKind.With ? Code(With) : null);
    }

    /// <summary>A code as labels write it.</summary>
    public static string Code(string typed) => typed.Trim().ToUpperInvariant();
}

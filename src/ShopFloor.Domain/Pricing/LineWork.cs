using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Pricing;

/// <summary>One coating on one piece.</summary>
/// <param name="Code">Code of the coating, e.g. <c>clear</c>.</param>
/// <param name="Name">What it is called on the price.</param>
/// <param name="MillilitresPerPiece">All coats together, losses included; at least zero.</param>
/// <param name="PerMillilitre">Purchase price, at least zero.</param>
public sealed record CoatingUse(string Code, string Name, decimal MillilitresPerPiece, Money PerMillilitre);

/// <summary>The printed transfer of one piece.</summary>
/// <param name="SquareCentimetresPerPiece">Paper used, bleed and waste included; at least zero.</param>
/// <param name="PerSquareCentimetre">Paper and ink together, at least zero.</param>
public sealed record TransferUse(decimal SquareCentimetresPerPiece, Money PerSquareCentimetre);

/// <summary>Attended time, of each piece and once for the line (set-up, proof, preparing the picture).</summary>
/// <param name="SecondsPerPiece">At least zero.</param>
/// <param name="SecondsPerLine">At least zero.</param>
public sealed record AttendedTime(decimal SecondsPerPiece, decimal SecondsPerLine);

/// <summary>Time of one machine, shared by the pieces that are in it together.</summary>
/// <param name="Machine">Code of the machine, as the rate card names it.</param>
/// <param name="Name">What it is called on the price.</param>
/// <param name="SecondsPerLoad">From loading to unloading, its share of warming up included; at least zero.</param>
/// <param name="MembersInLoad">Pieces that share it, as planned or usual; at least 1, need not be whole.</param>
/// <param name="Watts">Rated power, at least zero.</param>
/// <param name="DutyPercent">Share of the time that the heater draws it, 0 to 100.</param>
public sealed record MachineTime(
    string Machine,
    string Name,
    decimal SecondsPerLoad,
    decimal MembersInLoad,
    decimal Watts,
    decimal DutyPercent
);

/// <summary>What is lost when a piece is spoiled, and how likely that is.</summary>
/// <param name="Probability">Of spoiling one piece, 0 to 0.9; above that the work cannot be priced.</param>
/// <param name="ValueAtRisk">What the workshop pays for a customer's spoiled own piece, at least zero. A blank's price is known already: zero here.</param>
public sealed record SpoilRisk(decimal Probability, Money ValueAtRisk);

/// <summary>All that a line of alike pieces needs.</summary>
/// <param name="Pieces">1 to 100,000.</param>
/// <param name="Coatings">Coatings in the order of the recipe.</param>
/// <param name="Transfer">Printed paper, or null when nothing is printed.</param>
/// <param name="ConsumablesPerPiece">Tape, protective sheet, wipes; at least zero.</param>
/// <param name="Attended">Time of people.</param>
/// <param name="Machines">Time of machines, one entry for each cure, drying and press.</param>
/// <param name="BlankPerPiece">Purchase price of the blank; zero for a customer's own piece.</param>
/// <param name="Risk">What spoiling costs.</param>
public sealed record LineWork(
    int Pieces,
    IReadOnlyList<CoatingUse> Coatings,
    TransferUse? Transfer,
    Money ConsumablesPerPiece,
    AttendedTime Attended,
    IReadOnlyList<MachineTime> Machines,
    Money BlankPerPiece,
    SpoilRisk Risk
)
{
    /// <summary>What is wrong with the numbers; empty when nothing is.</summary>
    /// <param name="currency">The currency that every amount must be in.</param>
    public IReadOnlyList<Refusal> Check(string currency)
    {
        List<Refusal> found = [];
        if (Pieces is < 1 or > 100_000)
            found.Add(new("pieces", "A line has between 1 and 100,000 pieces.", nameof(Pieces)));
        if (Coatings.Any(c => c.MillilitresPerPiece is < 0 or > 100_000))
            found.Add(new("coating-amount", "The coating of a piece is between 0 and 100,000 ml.", nameof(Coatings)));
        if (Transfer is { SquareCentimetresPerPiece: < 0 or > 10_000_000 })
            found.Add(new("transfer-area", "The transfer of a piece cannot be negative or larger than 1000 m².", nameof(Transfer)));
        if (Attended.SecondsPerPiece is < 0 or > 1_000_000 || Attended.SecondsPerLine is < 0 or > 1_000_000)
            found.Add(new("attended-time", "The working time is between 0 and 1,000,000 seconds.", nameof(Attended)));
        if (
            Machines.Any(m =>
                m.SecondsPerLoad is < 0 or > 1_000_000
                || m.MembersInLoad < 1
                || m.Watts is < 0 or > 1_000_000
                || m.DutyPercent is < 0 or > 100
            )
        )
            found.Add(
                new(
                    "machine-time",
                    "A machine time needs 0 to 1,000,000 seconds, at least one piece to share it, and 0 to 100 % of its power.",
                    nameof(Machines)
                )
            );
        if (Risk.Probability is < 0 or > 0.9m)
            found.Add(
                new("spoil-risk", "With more than nine in ten pieces lost no price can be made: make a test piece first.", nameof(Risk))
            );
        if (Amounts().Any(a => a.Amount is < 0 or > 1_000_000))
            found.Add(new("amount", "Purchase prices and values are between 0 and 1,000,000.", nameof(LineWork)));
        if (Amounts().Any(a => !string.Equals(a.Currency, currency, StringComparison.Ordinal)))
            found.Add(new("currency-mixed", $"Every amount must be in {currency}, the currency of the rates.", nameof(LineWork)));
        return found;
    }

    private IEnumerable<Money> Amounts()
    {
        IEnumerable<Money> amounts = [ConsumablesPerPiece, BlankPerPiece, Risk.ValueAtRisk, .. Coatings.Select(c => c.PerMillilitre)];
        return Transfer is null ? amounts : amounts.Append(Transfer.PerSquareCentimetre);
    }
}

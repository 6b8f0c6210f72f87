using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Pricing;

/// <summary>What an hour of one machine costs besides its energy: wear, room, repair.</summary>
/// <param name="Machine">Code of the kind of machine, e.g. <c>oven</c>; a line's machine times name it.</param>
/// <param name="PerHour">Per hour of running, at least zero.</param>
public sealed record MachineRate(string Machine, Money PerHour);

/// <summary>The workshop's own rates from a day on. A change is a new card, so that an old price can always be explained.</summary>
/// <param name="Code">Stable name of the card, e.g. <c>rates-2026-03</c>; it is part of what a price is explained by.</param>
/// <param name="ValidFrom">First day on which it counts; it counts until a later card begins.</param>
/// <param name="LabourPerHour">An attended hour, above zero.</param>
/// <param name="EnergyPerKilowattHour">At least zero.</param>
/// <param name="Machines">Hourly rates by machine code, each code once.</param>
/// <param name="OverheadPercent">Added to the sum of all direct costs, 0 to 1000.</param>
public sealed record RateCard(
    string Code,
    DateOnly ValidFrom,
    Money LabourPerHour,
    Money EnergyPerKilowattHour,
    IReadOnlyList<MachineRate> Machines,
    decimal OverheadPercent
)
{
    /// <summary>The highest hourly rate taken as meant.</summary>
    public const decimal HighestRate = 100_000m;

    /// <summary>Currency of the card and so of every price made with it.</summary>
    public string Currency => LabourPerHour.Currency;

    /// <summary>The same numbers in another currency.</summary>
    public RateCard In(string currency) =>
        this with
        {
            LabourPerHour = LabourPerHour with { Currency = currency },
            EnergyPerKilowattHour = EnergyPerKilowattHour with { Currency = currency },
            Machines = [.. Machines.Select(m => m with { PerHour = m.PerHour with { Currency = currency } })],
        };

    /// <summary>The card in force on a day: the one with the latest start that is not after it.</summary>
    /// <param name="cards">All cards, in any order.</param>
    /// <param name="day">The day the price is made.</param>
    /// <returns>The card, or the refusal <c>no-rates</c>.</returns>
    public static Result<RateCard> On(IEnumerable<RateCard> cards, DateOnly day)
    {
        var inForce = cards
            .Where(c => c.ValidFrom <= day)
            .OrderBy(c => c.ValidFrom)
            .ThenBy(c => c.Code, StringComparer.Ordinal)
            .LastOrDefault();
        return inForce is null
            ? new Refusal(
                "no-rates",
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"No rates are in force on {day:yyyy-MM-dd}: enter a rate card that starts on or before it."
                )
            )
            : inForce;
    }

    /// <summary>What is wrong with the card; empty when nothing is.</summary>
    public IReadOnlyList<Refusal> Check()
    {
        List<Refusal> found = [];
        if (string.IsNullOrWhiteSpace(Code))
            found.Add(new("code-missing", "Give the rate card a name.", nameof(Code)));
        if (LabourPerHour.Amount is <= 0 or > HighestRate)
            found.Add(
                new(
                    "labour-rate",
                    "An hour of work must cost more than 0: at 0 every price would give the work away.",
                    nameof(LabourPerHour)
                )
            );
        if (EnergyPerKilowattHour.Amount is < 0 or > HighestRate)
            found.Add(new("energy-rate", "The price of a kilowatt-hour cannot be negative.", nameof(EnergyPerKilowattHour)));
        if (OverheadPercent is < 0 or > 1000)
            found.Add(new("overhead", "Overhead is between 0 and 1000 %.", nameof(OverheadPercent)));
        found.AddRange(
            Machines
                .Where(m => m.PerHour.Amount is < 0 or > HighestRate)
                .Select(m => new Refusal("machine-rate", $"The hourly rate of {m.Machine} cannot be negative.", nameof(Machines)))
        );
        if (Machines.DistinctBy(m => m.Machine, StringComparer.Ordinal).Count() != Machines.Count)
            found.Add(new("machine-twice", "Each machine has one hourly rate.", nameof(Machines)));
        if (EnergyPerKilowattHour.Currency != Currency || Machines.Any(m => m.PerHour.Currency != Currency))
            found.Add(new("currency-mixed", $"All rates of a card are in one currency, here {Currency}.", nameof(LabourPerHour)));
        return found;
    }
}

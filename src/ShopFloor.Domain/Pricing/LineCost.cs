namespace ShopFloor.Domain.Pricing;

/// <summary>One exact part of a line's cost or price.</summary>
/// <param name="Code">Stable code, e.g. <c>machine.oven</c>.</param>
/// <param name="Name">Plain name for people.</param>
/// <param name="Amount">For the whole line, in the rate card's currency, not rounded, any sign.</param>
public sealed record ExactPart(string Code, string Name, decimal Amount)
{
    /// <summary>What the amount was computed from, for the workshop's people; empty where the name says it all.</summary>
    public string Basis { get; init; } = "";
}

/// <summary>What a line costs the workshop, part by part, not rounded.</summary>
/// <param name="Parts">In the order in which the work is done: material, work, machines, blank, loss, overhead.</param>
public sealed record LineCost(IReadOnlyList<ExactPart> Parts)
{
    private const decimal SecondsPerHour = 3600m;

    /// <summary>Sum of the parts, not rounded.</summary>
    public decimal Total => Parts.Sum(p => p.Amount);

    /// <summary>Adds up the cost of a line.</summary>
    /// <param name="work">What the line needs; also measured work, to set actual beside estimate.</param>
    /// <param name="rates">The workshop's rates.</param>
    /// <returns>The cost, or what is wrong with the numbers.</returns>
    public static Result<LineCost> Of(LineWork work, RateCard rates)
    {
        IReadOnlyList<Refusal> refusals = [.. rates.Check(), .. work.Check(rates.Currency), .. UnknownMachines(work, rates)];
        if (refusals.Count > 0)
            return Result<LineCost>.Refused(refusals);
        List<ExactPart> parts = [.. Material(work), .. Work(work, rates), .. Machines(work, rates)];
        if (work.BlankPerPiece.Amount > 0)
            parts.Add(new("blank", "Blank", work.Pieces * work.BlankPerPiece.Amount));
        AddLoss(parts, work);
        if (rates.OverheadPercent > 0)
            parts.Add(new("overhead", "Overhead", parts.Sum(p => p.Amount) * rates.OverheadPercent / 100m));
        return new LineCost(parts);
    }

    private static string Text(FormattableString text) => FormattableString.Invariant(text);

    private static IEnumerable<ExactPart> Material(LineWork work)
    {
        foreach (var coating in work.Coatings)
            yield return new(
                $"coating.{coating.Code}",
                coating.Name,
                work.Pieces * coating.MillilitresPerPiece * coating.PerMillilitre.Amount
            )
            {
                Basis = Text(
                    $"{coating.MillilitresPerPiece:0.##} ml a piece at {coating.PerMillilitre.Amount:0.0###} {coating.PerMillilitre.Currency} a ml"
                ),
            };
        if (work.Transfer is { } transfer)
            yield return new(
                "transfer",
                "Transfer paper and ink",
                work.Pieces * transfer.SquareCentimetresPerPiece * transfer.PerSquareCentimetre.Amount
            );
        if (work.ConsumablesPerPiece.Amount > 0)
            yield return new("consumables", "Tape, sheets and wipes", work.Pieces * work.ConsumablesPerPiece.Amount);
    }

    private static IEnumerable<ExactPart> Work(LineWork work, RateCard rates)
    {
        var seconds = (work.Pieces * work.Attended.SecondsPerPiece) + work.Attended.SecondsPerLine;
        yield return new("labour", "Work by hand", seconds * rates.LabourPerHour.Amount / SecondsPerHour)
        {
            Basis = Text($"{seconds / 60:0.#} min at {rates.LabourPerHour.Amount:0.00} {rates.Currency} an hour"),
        };
    }

    /// <summary>Energy in kWh = W · h ÷ 1000 · duty; each piece carries its share of the load.</summary>
    private static IEnumerable<ExactPart> Machines(LineWork work, RateCard rates)
    {
        foreach (var times in work.Machines.GroupBy(m => (m.Machine, m.Name)))
        {
            var perHour = rates.Machines.First(r => string.Equals(r.Machine, times.Key.Machine, StringComparison.Ordinal)).PerHour.Amount;
            var amount = times.Sum(t =>
                work.Pieces
                * t.SecondsPerLoad
                * (perHour + (t.Watts * t.DutyPercent / 100_000m * rates.EnergyPerKilowattHour.Amount))
                / (SecondsPerHour * t.MembersInLoad)
            );
            yield return new($"machine.{times.Key.Machine}", times.Key.Name, amount)
            {
                Basis = Text(
                    $"at {perHour:0.00} {rates.Currency} an hour and {rates.EnergyPerKilowattHour.Amount:0.00##} {rates.Currency} a kWh"
                ),
            };
        }
    }

    /// <summary>
    /// With a chance p of spoiling, each good piece takes 1 ÷ (1 − p) starts on average (mean of the geometric distribution), so work and
    /// blank are needed p ÷ (1 − p) times more. A customer's own piece that is spoiled is not paid for and its value is given back: the same
    /// factor, on the work and the value.
    /// </summary>
    private static void AddLoss(List<ExactPart> parts, LineWork work)
    {
        var p = work.Risk.Probability;
        if (p > 0)
            parts.Add(
                new("loss", "Expected loss", p / (1m - p) * (parts.Sum(x => x.Amount) + (work.Pieces * work.Risk.ValueAtRisk.Amount)))
            );
    }

    private static IEnumerable<Refusal> UnknownMachines(LineWork work, RateCard rates) =>
        work
            .Machines.Where(m => rates.Machines.All(r => !string.Equals(r.Machine, m.Machine, StringComparison.Ordinal)))
            .DistinctBy(m => m.Machine, StringComparer.Ordinal)
            .Select(m => new Refusal(
                "machine-rate-missing",
                $"The rate card {rates.Code} has no hourly rate for {m.Name}: enter one, 0 is allowed."
            ));
}

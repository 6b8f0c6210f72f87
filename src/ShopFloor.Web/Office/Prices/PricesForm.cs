using ShopFloor.Domain;
using ShopFloor.Domain.Pricing;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Prices;

/// <summary>What is typed into the prices page.</summary>
public sealed class PricesForm(CurrentSettings now)
{
    /// <summary>Rates.</summary>
    public NumberEntries<RateCard> Rates { get; } = new(PriceNumbers.Rates(now.Rates), now.Rates);

    /// <summary>The rule's numbers.</summary>
    public NumberEntries<PriceRule> Rule { get; } = new(PriceNumbers.Rule(now.Profile.Currency), now.Rule);

    /// <summary>The other inputs.</summary>
    public NumberEntries<PriceInputs> Inputs { get; } = new(PriceNumbers.Inputs(now.Profile.Currency), now.Inputs);

    /// <summary>Margin or mark-up.</summary>
    public ProfitKind Profit { get; set; } = now.Rule.Profit;

    /// <summary>Whether measured minutes and losses count.</summary>
    public bool UseMeasured { get; set; } = now.Inputs.UseMeasured;

    /// <summary>One step a line: pieces and percent.</summary>
    public string Steps { get; set; } =
        string.Join(
            '\n',
            now.Rule.QuantitySteps.Select(s => string.Create(CultureInfo.CurrentCulture, $"{s.FromPieces}: {s.DiscountPercent:0.##}"))
        );

    /// <summary>One group a line: code, name and percent.</summary>
    public string Groups { get; set; } =
        string.Join(
            '\n',
            now.Rule.GroupDiscounts.Select(g => string.Create(CultureInfo.CurrentCulture, $"{g.Group}; {g.Name}: {g.DiscountPercent:0.##}"))
        );

    /// <summary>What to save, or everything that cannot be read.</summary>
    public Result<PricesInput> Read()
    {
        var (rates, rule, inputs) = (Rates.Read(), Rule.Read(), Inputs.Read());
        var faults = new List<Refusal>([.. rates.Refusals, .. rule.Refusals, .. inputs.Refusals]);
        var steps = Lines(Steps).Select(line => Step(line, faults)).OfType<QuantityStep>().ToList();
        var groups = Lines(Groups).Select(line => Group(line, faults)).OfType<GroupDiscount>().ToList();
        return faults.Count > 0
            ? Result<PricesInput>.Refused(faults)
            : new PricesInput(
                rates.Value,
                rule.Value with
                {
                    Profit = Profit,
                    QuantitySteps = steps,
                    GroupDiscounts = groups,
                },
                inputs.Value with
                {
                    UseMeasured = UseMeasured,
                }
            );
    }

    private static QuantityStep? Step(string line, List<Refusal> faults)
    {
        var parts = line.Split(':');
        if (
            parts.Length == 2
            && int.TryParse(parts[0].Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out var pieces)
            && NumberText.Read(parts[1]) is { IsOk: true } percent
        )
            return new QuantityStep(pieces, percent.Value);
        faults.Add(new Refusal("step-unread", $"“{Short(line)}”: write pieces and percent, like 20: 12.", nameof(PriceRule.QuantitySteps)));
        return null;
    }

    private static GroupDiscount? Group(string line, List<Refusal> faults)
    {
        var parts = line.Split(';', ':');
        if (parts.Length == 3 && parts.All(p => p.Trim().Length > 0) && NumberText.Read(parts[2]) is { IsOk: true } percent)
            return new GroupDiscount(parts[0].Trim(), parts[1].Trim(), percent.Value);
        faults.Add(
            new Refusal(
                "group-unread",
                $"“{Short(line)}”: write code; name: percent, like club; Boat club: 10.",
                nameof(PriceRule.GroupDiscounts)
            )
        );
        return null;
    }

    private static IEnumerable<string> Lines(string text) => text.Split('\n').Select(l => l.Trim()).Where(l => l.Length > 0);

    private static string Short(string text) => text.Length > 30 ? text[..30] + "…" : text;
}

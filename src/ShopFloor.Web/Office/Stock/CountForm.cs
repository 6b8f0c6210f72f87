using ShopFloor.Domain;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Stock;

/// <summary>One line of a stock-take: what the list says, and what is typed beside it.</summary>
public sealed class CountLine(CanId? can, string? item, string name, string group, string unit, decimal booked)
{
    /// <summary>The field's name; faults of the use case speak of the same.</summary>
    public string Field { get; } = can is null ? $"item-{item}" : $"can-{name}";
    public string Name { get; } = name;
    public string Group { get; } = group;
    public string Unit { get; } = unit;
    public decimal Booked { get; } = booked;

    /// <summary>As typed; empty: not counted.</summary>
    public string? Text { get; set; }

    /// <summary>Whether it is typed just as the list shows it, with its mark between thousands.</summary>
    public bool IsAsShown => Text?.Trim() == StockWords.Amount(Booked);

    /// <summary>What was counted. Whoever types what the list shows has found no difference, though the book may know a hundredth more.</summary>
    public Counted With(decimal found) => new(can, item, Booked, found == StockWords.Shown(Booked) ? Booked : found);
}

/// <summary>What is typed into a stock-take.</summary>
public sealed class CountForm(StockSheet stock)
{
    /// <summary>Cans, then counted stock.</summary>
    public IReadOnlyList<CountLine> Lines { get; } =
    [
        .. stock.Cans.Select(c => new CountLine(c.Id, null, c.Code, $"{c.Coating}, {c.Lot}", "ml", c.LeftMl)),
        .. stock.Items.Select(i => new CountLine(null, i.Code, i.Name, i.Kind, i.Unit, i.OnHand)),
    ];

    /// <summary>Why stock is taken.</summary>
    public string? Reason { get; set; }

    /// <summary>What to book, or every field that cannot be read.</summary>
    public Result<StockCount> Read()
    {
        var faults = new List<Refusal>();
        var counted = new List<Counted>();
        foreach (var line in Lines.Where(l => !string.IsNullOrWhiteSpace(l.Text)))
        {
            var read = line.IsAsShown ? StockWords.Shown(line.Booked) : NumberText.Clear(line.Text, line.Field);
            if (read.IsOk)
                counted.Add(line.With(read.Value));
            else
                faults.AddRange(read.Refusals.Select(r => r with { Text = $"{line.Name}: {r.Text}" }));
        }
        return faults.Count > 0 ? Result<StockCount>.Refused(faults) : new StockCount(Reason ?? "", counted);
    }
}

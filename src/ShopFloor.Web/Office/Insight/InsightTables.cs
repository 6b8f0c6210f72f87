namespace ShopFloor.Web.Office.Insight;

/// <summary>A table to be written out: words and numbers.</summary>
/// <param name="Name">Its sheet's name, at most 31 characters.</param>
/// <param name="Head">Column names.</param>
/// <param name="Rows">Cells: text, decimal or int; null is an empty cell.</param>
public sealed record OutTable(string Name, IReadOnlyList<string> Head, IReadOnlyList<IReadOnlyList<object?>> Rows);

/// <summary>The figures of a month as tables for files. Names of columns are stable and English.</summary>
public static class InsightTables
{
    /// <summary>All tables of the month and the one before.</summary>
    public static IReadOnlyList<OutTable> Of(InsightSheet sheet)
    {
        var month = sheet.This;
        return
        [
            new("summary", ["figure", "month", "month_before"], Summary(sheet)),
            .. month.Money.Select(m => new OutTable(
                $"by_{m.Key.ToString().ToLowerInvariant()}",
                ["name", "pieces", "revenue", "cost", "margin", "margin_percent", "credited"],
                [
                    .. m.Value.Select(r =>
                        (IReadOnlyList<object?>)
                            [r.Name, r.Pieces, Two(r.Revenue), Two(r.Cost), Two(r.Margin), Two(r.Percent), Two(r.Credited)]
                    ),
                ]
            )),
            .. Yields(month),
            new("faults", ["fault", "count"], [.. month.Faults.Select(f => (IReadOnlyList<object?>)[f.Name, f.Count])]),
            new("good_by_days", ["days", "pieces"], [.. month.Weeks.Select(w => (IReadOnlyList<object?>)[w.Name, w.Count])]),
            new(
                "machines",
                ["machine", "hours", "open_hours", "in_use_percent", "pieces", "margin_per_hour"],
                [
                    .. month.Machines.Select(m =>
                        (IReadOnlyList<object?>)
                            [m.Name, Two(m.Hours), Two(m.OpenHours), Two(m.InUsePercent), m.Pieces, Two(month.MarginPerHour(m))]
                    ),
                ]
            ),
        ];
    }

    private static IReadOnlyList<OutTable> Yields(MonthFigures month) =>
        [
            new(
                "yield",
                ["finish", "judged", "good", "reworked", "spoiled", "first_pass_percent", "scrap_percent"],
                [
                    .. month.Yields.Select(y =>
                        (IReadOnlyList<object?>)
                            [y.Name, y.Pieces, y.Good, y.Reworked, y.Spoiled, Two(y.FirstPassPercent), Two(y.ScrapPercent)]
                    ),
                ]
            ),
            new(
                "yield_by_material",
                ["finish", "material", "judged", "good", "reworked", "spoiled", "first_pass_percent", "scrap_percent"],
                [
                    .. month.MaterialYields.Select(y =>
                        (IReadOnlyList<object?>)
                            [y.Name, y.Material, y.Pieces, y.Good, y.Reworked, y.Spoiled, Two(y.FirstPassPercent), Two(y.ScrapPercent)]
                    ),
                ]
            ),
            new(
                "lost_by_step",
                ["finish", "material", "step", "pieces", "lost", "reworked", "first_pass_percent"],
                [
                    .. month.StepLosses.SelectMany(g =>
                        g.Steps.Select(s =>
                            (IReadOnlyList<object?>)[g.Finish, g.Material, s.Step, s.Pieces, s.Lost, s.Reworked, Two(s.FirstPassPercent)]
                        )
                    ),
                ]
            ),
            new(
                "rolled_yield",
                ["finish", "material", "pieces", "rolled_throughput_percent"],
                [.. month.StepLosses.Select(g => (IReadOnlyList<object?>)[g.Finish, g.Material, g.Pieces, Two(g.RolledPercent)])]
            ),
        ];

    private static IReadOnlyList<IReadOnlyList<object?>> Summary(InsightSheet sheet)
    {
        IReadOnlyList<object?> Row(string name, Func<MonthFigures, decimal?> of) => [name, Two(of(sheet.This)), Two(of(sheet.Before))];
        return
        [
            ["month", Settings.Period.Write(sheet.This.Month), Settings.Period.Write(sheet.Before.Month)],
            ["currency", sheet.Currency, sheet.Currency],
            Row("revenue", f => f.Revenue),
            Row("credited", f => f.Credited),
            Row("cost", f => f.Cost),
            Row("margin", f => f.Revenue - f.Cost),
            Row("handed_over", f => f.HandedOver),
            Row("checked_good", f => f.Good),
            Row("first_pass_percent", f => f.FirstPassPercent),
            Row("orders_completed", f => f.Completed),
            Row("promises_kept_percent", f => f.KeptPercent),
            Row("open_hours", f => f.OpenHours),
            Row("good_per_open_hour", f => f.GoodPerHour),
        ];
    }

    private static decimal? Two(decimal? n) => n is { } v ? Math.Round(v, 2, MidpointRounding.AwayFromZero) : null;
}

using ShopFloor.Domain;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Stations;

/// <summary>What is typed into a station's page.</summary>
/// <param name="row">The station as it is kept.</param>
/// <param name="all">All stations; a booth asks for the ovens among them.</param>
public sealed class StationForm(StationRow row, IReadOnlyList<StationRow>? all = null)
{
    /// <summary>The numbers.</summary>
    public NumberEntries<StationSettings> Numbers { get; private set; } = Of(row.Settings);

    /// <summary>What somebody else changed before this could be saved.</summary>
    public IReadOnlyList<ChangedField> Meanwhile { get; private init; } = [];

    /// <summary>The name.</summary>
    public string Name { get; set; } = row.Name;

    /// <summary>In use.</summary>
    public bool InUse { get; set; } = row.InUse;

    /// <summary>Until when it cannot be used, UTC, as it is kept; null: usable.</summary>
    public DateTimeOffset? DownUntil { get; } = row.DownUntil;

    /// <summary>True: it can be used again from now on.</summary>
    public bool IsUsableAgain { get; set; }

    /// <summary>Hours from now that it cannot be used; empty: as it is kept.</summary>
    public string DownHours { get; set; } = "";

    /// <summary>True for an oven, whose shelves can be added and removed.</summary>
    public bool HasShelves => row.Settings is OvenSettings;

    /// <summary>The numbers without those of shelves.</summary>
    public Range Main => ..(Numbers.Fields.Count - (Sides * ShelfCount(Numbers)));

    /// <summary>The numbers of each shelf, which stand in a row of their own.</summary>
    public IReadOnlyList<Range> Shelves =>
        [
            .. Enumerable
                .Range(0, ShelfCount(Numbers))
                .Select(i => new Range(Main.End.Value + (Sides * i), Main.End.Value + (Sides * (i + 1)))),
        ];

    /// <summary>How much solvent an oven takes in a load by the numbers as they are kept; null for another station.</summary>
    public Explanation? Solvent { get; } = row.Settings is OvenSettings oven ? OvenVapour.Limit(oven).Why : null;

    /// <summary>For a printer, what is typed beside its numbers; else null.</summary>
    public PrinterForm? Printer { get; } = row.Settings is PrinterSettings printer ? new PrinterForm(printer) : null;

    /// <summary>For a booth, which ovens share its air; else null.</summary>
    public BoothAir? Air { get; } = row.Settings is BoothSettings booth ? new BoothAir(booth, all ?? []) : null;

    /// <summary>Adds a shelf like the last, keeping what is typed where it can be read.</summary>
    public void AddShelf() => Reshape(o => o with { Shelves = [.. o.Shelves, o.Shelves[^1]] });

    /// <summary>Removes the last shelf; one stays.</summary>
    public void RemoveShelf() => Reshape(o => o.Shelves.Count > 1 ? o with { Shelves = [.. o.Shelves.SkipLast(1)] } : o);

    /// <summary>What to save, or every field that cannot be read.</summary>
    public Result<StationInput> Read(DateTimeOffset now)
    {
        var faults = new List<Refusal>();
        var down = IsUsableAgain ? null : Down(now, faults);
        var settings = Numbers.Read();
        if (settings is { IsOk: true, Value: PrinterSettings printer })
            settings = Printer!.Read(printer);
        if (settings.IsOk && Air is not null)
            settings = Air.Read();
        faults.AddRange(settings.Refusals);
        return faults.Count > 0
            ? Result<StationInput>.Refused(faults)
            : new StationInput(row.Id, row.Version, Name, settings.Value, down, InUse);
    }

    private DateTimeOffset? Down(DateTimeOffset now, List<Refusal> faults)
    {
        if (string.IsNullOrWhiteSpace(DownHours))
            return DownUntil;
        var hours = NumberText.Read(DownHours, "down");
        faults.AddRange(hours.Refusals);
        if (hours is { IsOk: true, Value: < 0 or > 8760 })
            faults.Add(new Refusal("out-of-range", "Between 0 and 8,760 hours.", "down"));
        return faults.Count == 0 && hours.Value > 0 ? now.AddHours((double)hours.Value) : null;
    }

    /// <summary>This form on the station as somebody else left it: what was entered stays, the rest follows.</summary>
    public StationForm Follow(StationRow now, DateTimeOffset at, IReadOnlyList<StationRow>? allNow = null)
    {
        var (before, meanwhile) = (new StationForm(row, all), new Meanwhile());
        var form = new StationForm(now, allNow)
        {
            Meanwhile = meanwhile.Fields,
            Name = meanwhile.Take("Name", Name, row.Name, now.Name),
            Numbers = Numbers.Follow(before.Numbers, Of(Shelved(now.Settings, meanwhile)), meanwhile),
            DownHours = Down(now, at, meanwhile),
            InUse = meanwhile.Take("In use", InUse, row.InUse, now.InUse, inUse => inUse ? "yes" : "no"),
        };
        Printer?.Follow(before.Printer!, form.Printer!, meanwhile);
        Air?.Follow(before.Air!, form.Air!, meanwhile);
        return form;
    }

    private static NumberEntries<StationSettings> Of(StationSettings settings) => new(StationNumbers.Of(settings), settings);

    // As many shelves as the form shows: those that were added here stay, and so does the lack of those that were taken away.
    private StationSettings Shelved(StationSettings now, Meanwhile meanwhile)
    {
        if (now is not OvenSettings oven || row.Settings is not OvenSettings before)
            return now;
        var count = meanwhile.Take("Shelves", ShelfCount(Numbers), before.Shelves.Count, oven.Shelves.Count);
        return oven with { Shelves = [.. Enumerable.Range(0, count).Select(i => oven.Shelves[Math.Min(i, oven.Shelves.Count - 1)])] };
    }

    // Width, depth and clear height.
    private const int Sides = 3;

    private static int ShelfCount(NumberEntries<StationSettings> numbers) =>
        numbers.Fields.Count(f =>
            f.Name.StartsWith("shelf-", StringComparison.Ordinal) && f.Name.EndsWith("-width", StringComparison.Ordinal)
        );

    // The field is empty at first, whatever the station's state.
    private string Down(StationRow now, DateTimeOffset at, Meanwhile meanwhile)
    {
        string Left(DateTimeOffset? until) =>
            until > at ? NumberText.Write(Math.Ceiling((decimal)(until.Value - at).TotalHours * 10) / 10) : "";
        var before = Left(row.DownUntil);
        return row.DownUntil == now.DownUntil
            ? DownHours
            : meanwhile.Take(
                "Broken or away for (hours from now)",
                DownHours.Length == 0 ? before : DownHours,
                before,
                Left(now.DownUntil)
            );
    }

    private void Reshape(Func<OvenSettings, OvenSettings> change)
    {
        if (Numbers.Read() is { IsOk: true, Value: OvenSettings oven })
            Numbers = Of(change(oven));
    }
}

using ShopFloor.Domain;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Stations;

/// <summary>What is typed into a station's page.</summary>
public sealed class StationForm(StationRow row)
{
    /// <summary>The numbers.</summary>
    public NumberEntries<StationSettings> Numbers { get; private set; } = new(StationNumbers.Of(row.Settings), row.Settings);

    /// <summary>The name.</summary>
    public string Name { get; set; } = row.Name;

    /// <summary>In use.</summary>
    public bool InUse { get; set; } = row.InUse;

    /// <summary>Hours from now that it cannot be used; empty: usable.</summary>
    public string DownHours { get; set; } = "";

    /// <summary>True for an oven, whose shelves can be added and removed.</summary>
    public bool HasShelves => row.Settings is OvenSettings;

    /// <summary>For a printer, what is typed beside its numbers; else null.</summary>
    public PrinterForm? Printer { get; } = row.Settings is PrinterSettings printer ? new PrinterForm(printer) : null;

    /// <summary>Adds a shelf like the last, keeping what is typed where it can be read.</summary>
    public void AddShelf() => Reshape(o => o with { Shelves = [.. o.Shelves, o.Shelves[^1]] });

    /// <summary>Removes the last shelf; one stays.</summary>
    public void RemoveShelf() => Reshape(o => o.Shelves.Count > 1 ? o with { Shelves = [.. o.Shelves.SkipLast(1)] } : o);

    /// <summary>What to save, or every field that cannot be read.</summary>
    public Result<StationInput> Read(DateTimeOffset now)
    {
        var down = string.IsNullOrWhiteSpace(DownHours) ? 0m : 0;
        var faults = new List<Refusal>();
        if (!string.IsNullOrWhiteSpace(DownHours))
        {
            var hours = NumberText.Read(DownHours, "down");
            faults.AddRange(hours.Refusals);
            down = hours.IsOk ? hours.Value : 0;
            if (hours.IsOk && down is < 0 or > 8760)
                faults.Add(new Refusal("out-of-range", "Between 0 and 8,760 hours.", "down"));
        }
        var settings = Numbers.Read();
        if (settings is { IsOk: true, Value: PrinterSettings printer })
            settings = Printer!.Read(printer);
        faults.AddRange(settings.Refusals);
        return faults.Count > 0
            ? Result<StationInput>.Refused(faults)
            : new StationInput(row.Id, row.Version, Name, settings.Value, down > 0 ? now.AddHours((double)down) : null, InUse);
    }

    private void Reshape(Func<OvenSettings, OvenSettings> change)
    {
        if (Numbers.Read() is { IsOk: true, Value: OvenSettings oven })
            Numbers = new NumberEntries<StationSettings>(StationNumbers.Of(change(oven)), change(oven));
    }
}

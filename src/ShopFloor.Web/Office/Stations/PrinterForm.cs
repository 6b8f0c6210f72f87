using ShopFloor.Documents.Sheets;
using ShopFloor.Domain;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Documents;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Stations;

/// <summary>A paper as it is typed, millimetres.</summary>
public sealed class PaperEntry
{
    public string Name { get; set; } = "";
    public string Width { get; set; } = "";
    public string Length { get; set; } = "";
    public bool IsRoll { get; init; }

    /// <summary>As it stands now.</summary>
    public static PaperEntry Of(PrinterPaper paper) =>
        new()
        {
            Name = paper.Name,
            Width = NumberText.Write(paper.Width.Millimetres),
            Length = NumberText.Write(paper.Longest.Millimetres),
            IsRoll = paper.IsRoll,
        };
}

/// <summary>What is typed into a printer's page beside its numbers: its papers, and whether its driver mirrors.</summary>
public sealed class PrinterForm(PrinterSettings start)
{
    /// <summary>Offered beside the sizes of ISO 216.</summary>
    public const string OwnSize = "own";

    /// <summary>A roll.</summary>
    public const string Roll = "roll";

    private readonly List<PaperEntry> papers =
    [
        .. (start.Papers.Count > 0 ? start.Papers : [PrinterPapers.Iso(IsoPaper.Names.Contains(start.Paper) ? start.Paper : "A4")]).Select(
            PaperEntry.Of
        ),
    ];

    /// <summary>The papers in order; the first is the usual one.</summary>
    public IReadOnlyList<PaperEntry> Papers => papers;

    /// <summary>The printer's own driver mirrors.</summary>
    public bool DriverMirrors { get; set; } = start.DriverMirrors;

    /// <summary>Adds a sheet of ISO 216 by name, or an empty row for an own size or a roll.</summary>
    public void Add(string kind) =>
        papers.Add(IsoPaper.Names.Contains(kind) ? PaperEntry.Of(PrinterPapers.Iso(kind)) : new PaperEntry { IsRoll = kind == Roll });

    /// <summary>Takes a paper away; one stays.</summary>
    public void Remove(PaperEntry paper)
    {
        if (papers.Count > 1)
            papers.Remove(paper);
    }

    /// <summary>Hands what was entered here on to the form of the printer as somebody else left it.</summary>
    public void Follow(PrinterForm before, PrinterForm now, Meanwhile meanwhile)
    {
        now.DriverMirrors = meanwhile.Take(
            "The printer’s own driver mirrors",
            DriverMirrors,
            before.DriverMirrors,
            now.DriverMirrors,
            mirrors => mirrors ? "yes" : "no"
        );
        var (entered, was, left) = (Words(papers), Words(before.papers), Words(now.papers));
        if (meanwhile.Take("Papers", entered, was, left) == left)
            return;
        now.papers.Clear();
        now.papers.AddRange(papers);
    }

    private static string Words(IEnumerable<PaperEntry> papers) =>
        string.Join(", ", papers.Select(p => $"{p.Name} {p.Width} × {p.Length} mm"));

    /// <summary>The settings with what is typed, or every field that cannot be read.</summary>
    public Result<StationSettings> Read(PrinterSettings numbers)
    {
        var faults = new List<Refusal>();
        var read = papers.Select((p, i) => Read(p, string.Create(CultureInfo.InvariantCulture, $"paper-{i}"), faults)).ToList();
        return faults.Count > 0
            ? Result<StationSettings>.Refused(faults)
            : numbers with
            {
                DriverMirrors = DriverMirrors,
                Papers = read,
                Paper = read[0].Name,
            };
    }

    private static PrinterPaper Read(PaperEntry entry, string field, List<Refusal> faults) =>
        new(entry.Name.Trim(), Side(entry.Width, $"{field}-width", faults), Side(entry.Length, $"{field}-length", faults), entry.IsRoll);

    private static Length Side(string typed, string field, List<Refusal> faults)
    {
        var number = NumberText.Read(typed, field);
        faults.AddRange(number.Refusals);
        if (!number.IsOk)
            return Length.Zero;
        if (number.Value is >= 0 and <= 5000)
            return Length.FromMillimetres(number.Value);
        faults.Add(new Refusal("out-of-range", "Up to 5,000 mm.", field));
        return Length.Zero;
    }
}

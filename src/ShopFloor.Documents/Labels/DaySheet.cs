using ShopFloor.Documents.Pdf;

namespace ShopFloor.Documents.Labels;

/// <summary>A line of a day sheet. Nothing of the customer.</summary>
/// <param name="From">Begin, as it shall be read.</param>
/// <param name="To">End.</param>
/// <param name="What">Step or batch.</param>
/// <param name="Pieces">The pieces.</param>
/// <param name="Settings">Temperature, time and the like.</param>
public sealed record DayLine(string From, string To, string What, string Pieces, string Settings);

/// <summary>The work of one station on a day.</summary>
public sealed record DayStation(string Name, IReadOnlyList<DayLine> Lines);

/// <summary>The words on a day sheet.</summary>
public sealed record DayWords
{
    /// <summary>Headings of the columns.</summary>
    public IReadOnlyList<string> Columns { get; init; } = ["from", "to", "what", "pieces", "settings", "done, time"];

    /// <summary>Which plan it is of; {0} when made, {1} plan.</summary>
    public string AsOf { get; init; } = "As of {0}, plan {1}. What was done meanwhile is not on it: write times down and enter them later.";

    /// <summary>Where a station has nothing.</summary>
    public string Nothing { get; init; } = "Nothing planned.";

    /// <summary>Which language it is, as two letters.</summary>
    public string Language { get; init; } = "en";

    /// <summary>Page number.</summary>
    public string Page { get; init; } = "page {0} of {1}";
}

/// <summary>Draws the plan of a day for the wall, for when the screens are dark: a table for each station, with room to tick off.</summary>
public static class DaySheets
{
    private static readonly double[] Widths = [16, 16, 46, 118, 44, 27];

    /// <summary>One day.</summary>
    public static PdfPaper Draw(
        string title,
        string made,
        string plan,
        IReadOnlyList<DayStation> stations,
        DateTime madeAtUtc,
        DayWords? words = null
    )
    {
        words ??= new DayWords();
        var page = new FlowPage(new SizeMm(297, 210), new InsetsMm(15, 14, 15, 16))
        {
            Furniture = (sheet, number, of) =>
            {
                sheet.Text(title, new PointMm(15, 201), TextStyle.Small, role: TextRole.Furniture);
                var foot = string.Format(CultureInfo.InvariantCulture, words.Page, number, of);
                sheet.Text(foot, new PointMm(282, 201), TextStyle.Small, Align.Right, TextRole.Furniture);
            },
        };
        return PaperFlow.Write(
            new PaperFacts(title, madeAtUtc, words.Language, Tagged: true),
            page,
            flow =>
            {
                flow.Paragraph(title, TextStyle.Title.At(22), role: TextRole.Title);
                flow.Paragraph(string.Format(CultureInfo.InvariantCulture, words.AsOf, made, plan), TextStyle.Body.At(10));
                foreach (var station in stations)
                    Station(flow, station, words);
            }
        );
    }

    private static void Station(PaperFlow flow, DayStation station, DayWords words)
    {
        flow.Space(4);
        flow.Keep(24);
        flow.Paragraph(station.Name, TextStyle.Strong.At(14), role: TextRole.Heading);
        if (station.Lines.Count == 0)
        {
            flow.Paragraph(words.Nothing, TextStyle.Body);
            return;
        }
        var columns = words.Columns.Select((heading, i) => new TableColumn(heading, Widths[i])).ToList();
        var rows = station.Lines.Select(l => new TableRow([l.From, l.To, l.What, l.Pieces, l.Settings, "□ ____:____"])).ToList();
        flow.Table(new FlowTable(columns, rows) { Style = TextStyle.Body.At(11) });
    }
}

using PdfSharp.UniversalAccessibility;

namespace ShopFloor.Documents.Pdf;

/// <summary>Sets one table into a flow.</summary>
internal sealed class TableWriter(PaperFlow flow, FlowTable table)
{
    private const double PadMm = 1.3;
    private const double GapMm = 1.5;

    private readonly TextStyle heading = table.Style with { Face = TypeFace.SemiBold, SizePt = table.Style.SizePt - 1, Ink = Ink.Quiet };
    private decimal carried;

    private sealed record Line(string Text, int Column, TextStyle Style, double OffsetMm);

    private double CarryHeight => table.CarryRow is null ? 0 : Height(Lines(table.CarryRow(carried, atFoot: true)));

    public void Write()
    {
        using var tag = flow.Sheet.InTag(PdfBlockLevelElementTag.Table);
        var first = table.Rows.Count == 0 ? 0 : Height(Lines(table.Rows[0]));
        if (HeadHeight() + first + CarryHeight > flow.Room)
            flow.NewPage();
        Head();
        for (var i = 0; i < table.Rows.Count; i++)
        {
            var last = i == table.Rows.Count - 1;
            Row(table.Rows[i], last ? table.TailMm : CarryHeight);
            carried += table.Rows[i].Carry;
        }
    }

    private double HeadHeight() => Height(HeadLines());

    private List<Line> HeadLines() => Lines(new TableRow([.. table.Columns.Select(c => c.Heading)]), heading);

    private void Head()
    {
        var lines = HeadLines();
        var height = Height(lines);
        Draw(lines, height, PdfBlockLevelElementTag.TableHeaderCell);
        flow.Sheet.Line(new PointMm(flow.Left, flow.Y), new PointMm(flow.Left + TableWidth(), flow.Y), new Stroke(0.3, Ink.Black));
    }

    private double TableWidth() => table.Columns.Sum(c => c.WidthMm);

    private void Row(TableRow row, double keepBelow)
    {
        var lines = Lines(row);
        var height = Height(lines);
        if (height + keepBelow > flow.Room + 1e-6 && height + keepBelow <= flow.FullRoom - HeadHeight() - CarryHeight)
            Break();
        while (Height(lines) + CarryHeight > flow.Room + 1e-6 && lines.Count > 0)
        {
            var fits = lines.TakeWhile(l => l.OffsetMm + l.Style.LineMm + 2 * PadMm + CarryHeight <= flow.Room).ToList();
            if (fits.Count > 0)
            {
                Draw(fits, Height(fits), PdfBlockLevelElementTag.TableDataCell);
                lines = [.. lines.Skip(fits.Count)];
                lines = [.. lines.Select(l => l with { OffsetMm = l.OffsetMm - lines[0].OffsetMm })];
            }
            Break();
        }
        if (row.Strong)
            Rule(Ink.Black, 0.3);
        if (lines.Count > 0)
            Draw(lines, Height(lines), PdfBlockLevelElementTag.TableDataCell);
        if (table.Ruled && !row.Strong)
            Rule(Ink.Rule, 0.12);
    }

    private void Rule(Ink ink, double width) =>
        flow.Sheet.Line(new PointMm(flow.Left, flow.Y), new PointMm(flow.Left + TableWidth(), flow.Y), new Stroke(width, ink));

    private void Break()
    {
        if (table.CarryRow is { } foot)
        {
            var lines = Lines(foot(carried, atFoot: true));
            Draw(lines, Height(lines), PdfBlockLevelElementTag.TableDataCell);
        }
        flow.NewPage();
        Head();
        if (table.CarryRow is { } top)
        {
            var lines = Lines(top(carried, atFoot: false));
            Draw(lines, Height(lines), PdfBlockLevelElementTag.TableDataCell);
            Rule(Ink.Rule, 0.12);
        }
    }

    private List<Line> Lines(TableRow row, TextStyle? style = null)
    {
        if (row.Cells.Count != table.Columns.Count)
            throw new ArgumentException($"A row has {row.Cells.Count} cells, the table {table.Columns.Count} columns.");
        var face = style ?? (row.Strong ? table.Style with { Face = TypeFace.SemiBold } : table.Style);
        var lines = new List<Line>();
        for (var c = 0; c < row.Cells.Count; c++)
        {
            var wrapped = face.Wrap(row.Cells[c], table.Columns[c].WidthMm - GapMm);
            lines.AddRange(wrapped.Select((text, i) => new Line(text, c, face, i * face.LineMm)));
        }
        if (row.Note.Length > 0)
        {
            var below =
                lines.Where(l => l.Column >= row.NoteColumn && l.Text.Length > 0).Max(l => (double?)l.OffsetMm + l.Style.LineMm) ?? 0;
            var note = TextStyle.Small;
            var width = table.Columns.Skip(row.NoteColumn).Sum(c => c.WidthMm) - GapMm;
            lines.AddRange(note.Wrap(row.Note, width).Select((t, i) => new Line(t, row.NoteColumn, note, below + i * note.LineMm)));
        }
        return [.. lines.Where((l, i) => l.Text.Length > 0 || i == 0).OrderBy(l => l.OffsetMm).ThenBy(l => l.Column)];
    }

    private static double Height(List<Line> lines) => lines.Count == 0 ? 0 : lines.Max(l => l.OffsetMm + l.Style.LineMm) + 2 * PadMm;

    private void Draw(List<Line> lines, double height, PdfBlockLevelElementTag cell)
    {
        flow.Block(
            Math.Min(height, flow.Room),
            (sheet, box) =>
            {
                using var tag = sheet.InTag(PdfBlockLevelElementTag.TableRow);
                foreach (var column in lines.GroupBy(l => l.Column).OrderBy(g => g.Key))
                {
                    using var cellTag = sheet.InTag(cell);
                    foreach (var line in column)
                        sheet.Text(line.Text, At(line, box), line.Style, table.Columns[line.Column].Align);
                }
            }
        );
    }

    private PointMm At(Line line, RectMm box)
    {
        var column = table.Columns[line.Column];
        var left = box.X + table.Columns.Take(line.Column).Sum(c => c.WidthMm);
        var x = column.Align switch
        {
            Align.Right => left + column.WidthMm,
            Align.Centre => left + (column.WidthMm - GapMm) / 2,
            _ => left,
        };
        return new PointMm(x, box.Y + PadMm + line.OffsetMm + PdfSheet.Ascent(line.Style));
    }
}

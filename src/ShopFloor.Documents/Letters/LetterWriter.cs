using ShopFloor.Documents.Pdf;

namespace ShopFloor.Documents.Letters;

/// <summary>Sets a letter: head, address, facts, table with carried totals, sums, closing words, and on every page its number.</summary>
public sealed class LetterWriter
{
    private const double FactsWidthMm = 68;
    private const double AddressTopMm = 46;
    private const double AddressHeightMm = 42;
    private const double SumWidthMm = 92;

    private readonly PaperFlow flow;
    private readonly Letter letter;

    private LetterWriter(PaperFlow flow, Letter letter) => (this.flow, this.letter) = (flow, letter);

    /// <summary>The letter as PDF with its fonts inside.</summary>
    /// <param name="letter">What it says.</param>
    /// <param name="head">Whose letter it is.</param>
    /// <param name="paper">Paper size.</param>
    /// <param name="madeAtUtc">Instant written into the file.</param>
    public static byte[] Write(Letter letter, Letterhead head, LetterPaper paper, DateTime madeAtUtc)
    {
        var size = paper == LetterPaper.A4 ? new SizeMm(210, 297) : new SizeMm(215.9, 279.4);
        var furniture = new LetterFurniture(head, letter, size);
        var page = new FlowPage(size, LetterFurniture.Margins) { LaterTopMm = 26, Furniture = furniture.Draw };
        var facts = new PaperFacts(letter.Title, madeAtUtc, letter.Reader.Language, Author: head.Name, Tagged: true);
        return PaperFlow.Write(facts, page, flow => new LetterWriter(flow, letter).WriteAll()).ToBytes();
    }

    private void WriteAll()
    {
        flow.Space(AddressTopMm - flow.Y);
        var height = Math.Max(AddressHeightMm, Math.Max(AddressHeight(), FactsHeight()) + 6);
        flow.Block(height, AddressAndFacts);
        flow.Paragraph(letter.Title, TextStyle.Title, role: TextRole.Heading);
        flow.Space(3);
        if (letter.Opening.Length > 0)
        {
            flow.Paragraph(letter.Opening, TextStyle.Body);
            flow.Space(3);
        }
        Table();
        Totals();
        foreach (var paragraph in letter.Closing)
        {
            flow.Space(2.5);
            flow.Paragraph(paragraph, TextStyle.Body);
        }
        foreach (var signature in letter.Signatures)
            flow.Block(20, (sheet, box) => Signature(sheet, box, signature));
    }

    private double AddressWidth => flow.Width - FactsWidthMm - 10;

    private double AddressHeight() =>
        letter.To.Sum(l => TextStyle.Body.At(10.5).Wrap(l, AddressWidth).Count * TextStyle.Body.At(10.5).LineMm);

    private double FactsHeight() => letter.Facts.Sum(f => FactLines(f).Count * TextStyle.Body.LineMm);

    private static IReadOnlyList<string> FactLines(LetterFact fact) => TextStyle.Strong.Wrap(fact.Value, FactsWidthMm * 0.62);

    private void AddressAndFacts(PdfSheet sheet, RectMm box)
    {
        var style = TextStyle.Body.At(10.5);
        var y = box.Y;
        foreach (var line in letter.To.SelectMany(l => style.Wrap(l, AddressWidth)))
        {
            sheet.Text(line, new PointMm(box.X, y + PdfSheet.Ascent(style)), style);
            y += style.LineMm;
        }
        var (left, valueLeft) = (box.Right - FactsWidthMm, box.Right - FactsWidthMm * 0.62);
        y = box.Y;
        foreach (var fact in letter.Facts)
        {
            sheet.Text(fact.Name, new PointMm(left, y + PdfSheet.Ascent(TextStyle.Body)), TextStyle.Body with { Ink = Ink.Quiet });
            foreach (var line in FactLines(fact))
            {
                sheet.Text(line, new PointMm(valueLeft, y + PdfSheet.Ascent(TextStyle.Strong)), TextStyle.Strong);
                y += TextStyle.Strong.LineMm;
            }
        }
    }

    private void Table()
    {
        if (letter.Lines.Count == 0)
            return;
        var (prices, amounts) = (letter.PriceHeading.Length > 0, letter.AmountHeading.Length > 0);
        var quantities = letter.Lines.Any(l => l.Quantity.Length > 0);
        double[] widths = [11, 0, quantities ? 24 : 0, prices ? 28 : 0, amounts ? 32 : 0];
        widths[1] = flow.Width - widths.Sum();
        TableColumn[] all =
        [
            new("", widths[0]),
            new("", widths[1]),
            new(letter.Reader.Say("Quantity"), widths[2], Align.Right),
            new(letter.PriceHeading, widths[3], Align.Right),
            new(letter.AmountHeading, widths[4], Align.Right),
        ];
        var kept = Enumerable.Range(0, 5).Where(c => widths[c] > 0).ToList();
        TableRow Row(params string[] cells) => new([.. kept.Select(c => cells[c])]);
        var rows = letter.Lines.Select(l =>
            Row(l.Position, l.Name, l.Quantity, l.UnitPrice, l.Amount) with
            {
                Note = l.Note,
                Carry = l.Carry,
            }
        );
        flow.Table(
            new FlowTable([.. kept.Select(c => all[c])], [.. rows])
            {
                CarryRow = amounts
                    ? (sum, atFoot) =>
                        Row("", letter.Reader.Say(atFoot ? "Carried over" : "Brought forward"), "", "", letter.Reader.Amount(sum)) with
                        {
                            Strong = atFoot,
                        }
                    : null,
                TailMm = Math.Min(SumsHeight(), 70),
            }
        );
    }

    private double SumsHeight() => 3 + letter.Totals.Sum(t => LabelLines(t).Count * Style(t).LineMm + (t.Strong ? 3 : 0.6));

    private static TextStyle Style(LetterTotal total) => total.Strong ? TextStyle.Strong.At(11) : TextStyle.Body;

    private static IReadOnlyList<string> LabelLines(LetterTotal total) => Style(total).Wrap(total.Label, SumWidthMm - 34);

    private void Totals()
    {
        if (letter.Totals.Count > 0)
            flow.Block(SumsHeight(), DrawTotals);
    }

    private void DrawTotals(PdfSheet sheet, RectMm box)
    {
        var (left, y) = (box.Right - SumWidthMm, box.Y + 2);
        foreach (var total in letter.Totals)
        {
            var style = Style(total);
            if (total.Strong)
                sheet.Line(new PointMm(left, y + 0.8), new PointMm(box.Right, y + 0.8), new Stroke(0.3, Ink.Black));
            y += total.Strong ? 2 : 0;
            sheet.Text(total.Amount, new PointMm(box.Right, y + PdfSheet.Ascent(style)), style, Align.Right);
            foreach (var line in LabelLines(total))
            {
                sheet.Text(line, new PointMm(left, y + PdfSheet.Ascent(style)), style);
                y += style.LineMm;
            }
            y += total.Strong ? 1 : 0.6;
        }
    }

    private static void Signature(PdfSheet sheet, RectMm box, string words)
    {
        sheet.Line(new PointMm(box.X, box.Bottom - 5), new PointMm(box.X + 90, box.Bottom - 5), Stroke.Hair);
        sheet.Text(words, new PointMm(box.X, box.Bottom - 1.5), TextStyle.Small);
    }
}

using ShopFloor.Documents.Imaging;
using ShopFloor.Documents.Pdf;

namespace ShopFloor.Documents.Labels;

/// <summary>The slip that the customer takes home.</summary>
/// <param name="Shop">Name and address of the workshop, line by line.</param>
/// <param name="OrderNumber">Number of the order.</param>
/// <param name="Date">Date of the order, as it shall be read.</param>
/// <param name="Lines">What was ordered, a line each.</param>
/// <param name="Ready">Promised date, as it shall be read.</param>
/// <param name="Address">Secret address of the status page; empty for none.</param>
public sealed record JobTicket(
    IReadOnlyList<string> Shop,
    string OrderNumber,
    string Date,
    IReadOnlyList<string> Lines,
    string Ready,
    string Address
)
{
    /// <summary>Pairs such as total and deposit; left out on a gift.</summary>
    public IReadOnlyList<(string Name, string Value)> Sums { get; init; } = [];

    /// <summary>What was agreed to, in short.</summary>
    public IReadOnlyList<string> Notes { get; init; } = [];
}

/// <summary>The words on a ticket.</summary>
public sealed record TicketWords
{
    /// <summary>Before the number.</summary>
    public string Order { get; init; } = "Order";

    /// <summary>Before the promised date.</summary>
    public string Ready { get; init; } = "Ready";

    /// <summary>Beside the QR code.</summary>
    public string Scan { get; init; } = "Scan to see how far it is. Whoever has this code sees the same: keep it.";
}

/// <summary>Draws tickets on A6, as many pages as it takes.</summary>
public static class JobTickets
{
    private const double QrModuleMm = 0.6;

    /// <summary>One ticket.</summary>
    public static PdfPaper Draw(JobTicket ticket, DateTime madeAtUtc, TicketWords? words = null)
    {
        words ??= new TicketWords();
        var facts = new PaperFacts($"{words.Order} {ticket.OrderNumber}", madeAtUtc, Tagged: true);
        return PaperFlow.Write(facts, new FlowPage(new SizeMm(105, 148), InsetsMm.All(8)), flow => Write(flow, ticket, words));
    }

    private static void Write(PaperFlow flow, JobTicket ticket, TicketWords words)
    {
        foreach (var line in ticket.Shop)
            flow.Paragraph(line, TextStyle.Small.At(8));
        flow.Space(3);
        flow.Paragraph($"{words.Order} {ticket.OrderNumber}", TextStyle.Title, role: TextRole.Title);
        flow.Paragraph(ticket.Date, TextStyle.Body);
        flow.Space(2);
        foreach (var line in ticket.Lines)
            flow.Paragraph(line, TextStyle.Body);
        flow.Space(2);
        flow.Paragraph($"{words.Ready} {ticket.Ready}", TextStyle.Strong.At(12));
        foreach (var (name, value) in ticket.Sums)
            flow.Block(
                TextStyle.Body.LineMm,
                (sheet, box) =>
                {
                    sheet.Text(name, new PointMm(box.X, box.Y + 3.4), TextStyle.Body);
                    sheet.Text(value, new PointMm(box.Right, box.Y + 3.4), TextStyle.Strong, Align.Right);
                }
            );
        flow.Space(2);
        foreach (var note in ticket.Notes)
            flow.Paragraph(note, TextStyle.Small);
        if (ticket.Address.Length > 0)
            Code(flow, ticket.Address, words.Scan);
    }

    private static void Code(PaperFlow flow, string address, string scan)
    {
        var qr = QrCode.Of(address);
        var side = qr.FullSize * QrModuleMm;
        flow.Block(
            side,
            (sheet, box) =>
            {
                sheet.Shape(qr.ToOutline(new PointMm(box.X, box.Y), QrModuleMm), null, Ink.Black);
                sheet.TextBlock(scan, new RectMm(box.X + side + 1, box.Y + 4, box.Width - side - 1, side), TextStyle.Body.At(8.5));
            }
        );
    }
}

using ShopFloor.Documents.Labels;
using ShopFloor.Documents.Pdf;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Quantities;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Counter.Entries;

namespace ShopFloor.Web.Documents;

/// <summary>
/// Labels of an order's pieces: one for each, and one for a tray of pieces that nobody can tell apart yet, whether they will carry names or not.
/// Who the customer is stands on none of them.
/// </summary>
public static class LabelPapers
{
    private const string UsualSize = "62x29";

    public static Result<PdfPaper> Make(OpenWork work, PaperWish wish, string address)
    {
        var pieces = work.Pieces.Where(p => IsOf(work, p, wish.Subject)).OrderBy(p => work.LineOf(p).Number).ThenBy(p => p.Number).ToList();
        if (pieces.Count == 0)
            return new Refusal("paper-nothing", $"Order {wish.Subject} has no pieces in work that could get a label.");
        var labels = pieces.GroupBy(Together).Select(g => Label(work, [.. g], address)).ToList();
        var at = work.Now.UtcDateTime;
        if (LabelSheet.All.FirstOrDefault(s => s.Name == wish.Form) is { } sheet)
            return PieceLabels.OnSheets(labels, sheet, 0, at);
        var size = LabelSize.All.FirstOrDefault(s => s.Name == (wish.Form.Length > 0 ? wish.Form : UsualSize));
        return size is null
            ? new Refusal(
                "label-size",
                $"There is no label size {wish.Form}. Choose one of {string.Join(", ", LabelSize.All.Select(s => s.Name))}."
            )
            : PieceLabels.OnRoll(labels, size, at);
    }

    /// <summary>What the QR code of a piece, tray or batch opens.</summary>
    public static string Address(string host, string code) => $"{host}b/{code}";

    /// <summary>Material and size, as on the Bench.</summary>
    public static string Describe(OpenWork work, OrderLine line) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"{work.Settings.Material(line.Piece.Material).Name} {SizeEcho.Face(line.Piece, Number)} mm"
        );

    /// <summary>Which of an order's pieces it is, e.g. <c>1003 · 2/12</c>; a test piece is none of those that were ordered.</summary>
    public static string Which(OpenWork work, Piece piece, OrderLine line) =>
        $"{work.Orders[piece.Order].Number} · {(piece.IsTest ? "test piece" : $"{piece.Number}/{line.Quantity}")}";

    private static string Tray(OpenWork work, Piece piece, int count) =>
        string.Create(CultureInfo.InvariantCulture, $"{work.Orders[piece.Order].Number} · tray of {count}");

    private static string Number(Length length) => length.Millimetres.ToString("0.#", CultureInfo.InvariantCulture);

    private static bool IsOf(OpenWork work, Piece piece, string number) =>
        work.Orders[piece.Order].Number.ToString(CultureInfo.InvariantCulture) == number;

    // Until its print is taped on, a piece of a tray is any of them.
    private static string Together(Piece piece) => piece is { IsBound: false, IsTest: false, Tray: { } tray } ? tray : piece.Code;

    private static PieceLabel Label(OpenWork work, IReadOnlyList<Piece> alike, string address)
    {
        var piece = alike[0];
        var line = work.LineOf(piece);
        var next =
            piece.NextAttended is { } item ? StepWords.Of(item.Settings)
            : piece.State == PieceState.CheckedGood ? "hand over"
            : "–";
        var code = alike.Count > 1 ? piece.Tray! : piece.Code;
        var which = alike.Count > 1 ? Tray(work, piece, alike.Count) : Which(work, piece, line);
        return new PieceLabel(code, Address(address, code), which, Describe(work, line), next, piece.IsOwn);
    }
}

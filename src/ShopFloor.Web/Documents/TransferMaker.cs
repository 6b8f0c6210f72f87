using ShopFloor.Documents.Imaging;
using ShopFloor.Documents.Pdf;
using ShopFloor.Documents.Sheets;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pictures;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Counter.Pictures;

namespace ShopFloor.Web.Documents;

/// <summary>Makes the transfer of a piece from its order line. Each picture is read once for all pieces of a run.</summary>
/// <param name="files">The pictures.</param>
/// <param name="door">How many are opened at once.</param>
/// <param name="work">What is in work.</param>
/// <param name="gone">Pieces of the same lines that are with the customer: their texts are given.</param>
internal sealed class TransferMaker(PictureFolder files, PictureDoor door, OpenWork work, IReadOnlyList<Piece> gone)
{
    private readonly PrintRules rules = PrintRules.Of(work.Settings.Profile);
    private readonly ILookup<OrderLineId, Piece> siblings = work.Pieces.Concat(gone).ToLookup(p => p.Line);
    private readonly Dictionary<PictureId, PdfPicture> pictures = [];

    /// <summary>The transfer, or why there can be none.</summary>
    /// <param name="piece">The piece.</param>
    /// <param name="group">What is printed together.</param>
    public Result<Transfer> Make(Piece piece, string group)
    {
        var line = work.LineOf(piece);
        var it = line.Piece;
        var face = new FaceOutline(
            it.Face,
            (double)it.Width.Millimetres,
            (double)it.BoxHeight.Millimetres,
            (double)it.Corner.Millimetres,
            it.Face == FaceShape.Ring ? (double)it.Hole.Millimetres : 0
        );
        var transfer = new Transfer(piece.Code, "", face, (double)rules.BleedMillimetres, line.Finish)
        {
            Group = group,
            Texts = Text(line, piece, face),
        };
        var laid = line.Picture is { } id
            ? PictureOf(id, piece).Then<Transfer>(picture => Laid(transfer, line.Placement, picture))
            : transfer;
        return laid.Then<Transfer>(t =>
            t with
            {
                Caption = string.Join(" · ", [LabelPapers.Which(work, piece, line), .. Doubts(t), LabelPapers.Describe(work, line)]),
            }
        );
    }

    private Result<PdfPicture> PictureOf(PictureId id, Piece piece)
    {
        if (pictures.TryGetValue(id, out var known))
            return known;
        if (!files.Has(id))
            return new Refusal(
                "picture-missing",
                $"The picture of piece {piece.Code} is not in the picture folder any more. Ask for it again.",
                piece.Code
            );
        return door.Head(files.Clean(id)).Then<PdfPicture>(head => pictures[id] = PrintPicture.Of(head, () => files.Clean(id)));
    }

    /// <summary>What may disappoint, in a few words beside the print, where it can still be left undone.</summary>
    private IEnumerable<string> Doubts(Transfer transfer)
    {
        if (transfer.Picture is { } picture && Judged(picture) is { Verdict: PictureVerdict.Poor } found)
            yield return string.Create(CultureInfo.InvariantCulture, $"coarse picture, {found.LowerPpi:0} ppi");
        if (transfer.Texts.Count > 0 && transfer.Texts.Min(t => t.Style.CapMm) is var cap && cap < FaceText.LegibleCapMm)
            yield return string.Create(CultureInfo.InvariantCulture, $"letters only {cap:0.0} mm");
    }

    private EffectiveResolution? Judged(TransferPicture laid)
    {
        var (picture, to) = (laid.Picture, laid.PixelToFace);
        var (across, down) = (Math.Sqrt(to.Xx * to.Xx + to.Yx * to.Yx), Math.Sqrt(to.Xy * to.Xy + to.Yy * to.Yy));
        var judged = rules.Judge(picture.WidthPx, picture.HeightPx, picture.WidthPx * across, picture.HeightPx * down);
        return judged.IsOk ? judged.Value.Value : null;
    }

    private Result<Transfer> Laid(Transfer transfer, PictureOnFace on, PdfPicture picture)
    {
        var box = transfer.Face.Box;
        var choice = on.Choice(picture.WidthPx, picture.HeightPx, box.Width, box.Height, transfer.BleedMm, rules.MarginMm);
        return PicturePlacement
            .From(choice)
            .Then<Transfer>(placed => transfer with { Picture = new TransferPicture(picture, placed.PixelToFace) });
    }

    /// <summary>The text of the piece, laid as the customer saw it.</summary>
    private IReadOnlyList<TransferText> Text(OrderLine line, Piece piece, FaceOutline face) =>
        PieceTexts.Of(line, piece, [.. siblings[line.Id]]) is { } text
            ? [FaceText.On(face, text, line.Picture is not null, line.Placement.LightLetters, rules.MarginMm)]
            : [];
}

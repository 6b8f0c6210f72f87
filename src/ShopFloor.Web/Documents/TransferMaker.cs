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
        var caption = $"{LabelPapers.Which(work, piece, line)} · {LabelPapers.Describe(work, line)}";
        var transfer = new Transfer(piece.Code, caption, face, (double)work.Settings.Profile.BleedMillimetres, line.Finish)
        {
            Group = group,
            Texts = Text(line, piece, face),
        };
        if (line.Picture is not { } id)
            return transfer;
        return PictureOf(id, piece).Then<Transfer>(picture => Laid(transfer, line.Placement, picture));
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

    private static Result<Transfer> Laid(Transfer transfer, PictureOnFace on, PdfPicture picture)
    {
        var box = transfer.Face.Box;
        var choice = on.Choice(picture.WidthPx, picture.HeightPx, box.Width, box.Height, transfer.BleedMm);
        return PicturePlacement
            .From(choice)
            .Then<Transfer>(placed => transfer with { Picture = new TransferPicture(picture, placed.PixelToFace) });
    }

    /// <summary>The text of the piece, laid as the customer saw it.</summary>
    private IReadOnlyList<TransferText> Text(OrderLine line, Piece piece, FaceOutline face) =>
        PieceTexts.Of(line, piece, [.. siblings[line.Id]]) is { } text
            ? [FaceText.On(face, text, line.Picture is not null, line.Placement.LightLetters)]
            : [];
}

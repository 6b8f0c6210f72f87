using ShopFloor.Documents.Labels;
using ShopFloor.Documents.Pdf;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Bench.Parts;
using ShopFloor.Web.Bench.Reading;
using BatchCard = ShopFloor.Documents.Labels.BatchCard;

namespace ShopFloor.Web.Documents;

/// <summary>Tray cards of oven loads and press cards of sessions, from the same sheet that the Bench shows.</summary>
internal static class CardPapers
{
    private const string LabelsHere = "Labels stay on this card: they burn in the oven and stain the coat.";

    public static Result<PdfPaper> Make(OpenWork work, PaperWish wish, string address)
    {
        var batch = work.Batches.FirstOrDefault(b => b.Code == wish.Subject);
        if (batch is null)
            return new Refusal("paper-nothing", $"There is no batch {wish.Subject} being put together or running.");
        var sheet = BatchSheet.Of(work, batch, null);
        return BatchCards.Draw(Card(work, batch, sheet, address), work.Now.UtcDateTime);
    }

    private static BatchCard Card(OpenWork work, Batch batch, BatchSheet sheet, string address)
    {
        var isSession = batch.Kind == BatchKind.PressSession;
        return new BatchCard
        {
            Title = isSession ? "Press card" : "Tray card",
            Code = batch.Code,
            Address = LabelPapers.Address(address, batch.Code),
            Where = sheet.StationName,
            Settings = [.. sheet.Settings.Select(s => new CardSetting(s.Label, s.Value))],
            Sign = sheet.LayUp is { } layUp ? Sign(layUp) : "",
            Stack = sheet.LayUp is { } lies
                ? [.. LayUpLines.Of(lies).Select(l => new CardLayer(l.Word, l.Height / 4.0, l.Dash, l.Solid))]
                : [],
            Surfaces = [.. sheet.Surfaces.Where(s => s.Places.Count > 0).Select(Surface)],
            Pieces = [.. Pieces(work, batch)],
            Cautions = [.. sheet.Cautions, Cautioned.WhatRules],
            Foot = isSession ? "A fresh protective sheet for each press." : LabelsHere,
        };
    }

    private static string Sign(LayUp layUp) =>
        (layUp.Mirrored ? "Text on the prints reads BACKWARDS" : "Text on the prints reads FORWARDS")
        + (layUp.PrintBelow ? " · print underneath" : " · print on top");

    // The Bench's drawing counts from the back edge, the card from the front.
    private static CardSurface Surface(SurfaceSheet surface) =>
        new(
            surface.Title,
            new SizeMm(surface.WidthMm, surface.DepthMm),
            [.. surface.Places.Select(p => new CardPlace(p.Code, p.XMm, surface.DepthMm - p.YMm - p.DepthMm, p.WidthMm, p.DepthMm))]
        );

    private static IEnumerable<CardPiece> Pieces(OpenWork work, Batch batch)
    {
        var members = work.MembersOf(batch).ToDictionary(p => p.Id);
        foreach (var place in batch.Places.Where(p => members.ContainsKey(p.Piece)))
        {
            var piece = members[place.Piece];
            var line = work.LineOf(piece);
            yield return new CardPiece(
                piece.Code,
                LabelPapers.Which(work, piece, line),
                LabelPapers.Describe(work, line),
                place.Shelf > 0 ? place.Shelf.ToString(CultureInfo.InvariantCulture) : "",
                Whole(place.XMicrometres),
                Whole(place.YMicrometres)
            );
        }
    }

    private static string Whole(long micrometres) => $"{(micrometres / 1000).ToString(CultureInfo.InvariantCulture)} mm";
}

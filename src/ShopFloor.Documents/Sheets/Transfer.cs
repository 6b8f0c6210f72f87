using ShopFloor.Documents.Pdf;
using ShopFloor.Domain;
using ShopFloor.Domain.Pictures;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Documents.Sheets;

/// <summary>A picture on a face.</summary>
/// <param name="Picture">The picture.</param>
/// <param name="PixelToFace">From its upright pixels to millimetres on the face as the viewer sees it.</param>
public sealed record TransferPicture(PdfPicture Picture, PlaneTransform PixelToFace);

/// <summary>A line of text on a face, drawn as text and not as pixels.</summary>
/// <param name="Text">What it says.</param>
/// <param name="Style">Face, size and colour.</param>
/// <param name="At">Where on the face, in millimetres, on the baseline.</param>
/// <param name="Align">How it stands about that place.</param>
public sealed record TransferText(string Text, TextStyle Style, PointMm At, Align Align = Align.Centre);

/// <summary>The printed paper for one piece.</summary>
/// <param name="Code">Code of the piece, printed beside the picture.</param>
/// <param name="Caption">A short line for the worker, printed beside the code.</param>
/// <param name="Face">Outline of the face.</param>
/// <param name="BleedMm">How far the print goes past the edge of the face.</param>
/// <param name="Finish">Decides whether the print is mirrored.</param>
public sealed record Transfer(string Code, string Caption, FaceOutline Face, double BleedMm, Finish Finish)
{
    /// <summary>What is printed together: the code of the press session, or empty.</summary>
    public string Group { get; init; } = "";

    /// <summary>The picture, or null where there is only text.</summary>
    public TransferPicture? Picture { get; init; }

    /// <summary>Lines of text over the picture.</summary>
    public IReadOnlyList<TransferText> Texts { get; init; } = [];

    /// <summary>The box that is printed: the face's box and its bleed, from the face's upper left corner.</summary>
    public RectMm Printed => RectMm.Of(Face.Box).Grown(BleedMm);

    /// <summary>Why it cannot be printed; empty when it can.</summary>
    internal IEnumerable<Refusal> Faults()
    {
        if (!(Face.Box is { Width: > 0, Height: > 0 }))
        {
            yield return new Refusal("transfer-without-size", $"Piece {Code} has a face without size. Enter its width and height.", Code);
            yield break;
        }
        if (Face.HoleMm < 0 || Face.HoleMm >= Face.Box.Width || Face.CornerMm < 0 || BleedMm is < 0 or > 50)
            yield return new Refusal("transfer-measures", $"Piece {Code} has a hole, corner or bleed that does not fit its face.", Code);
        if (Picture is null && Texts.All(t => t.Text.Length == 0))
            yield return new Refusal("transfer-without-picture", $"Piece {Code} has no picture and no text yet.", Code);
        var missing = Texts.SelectMany(t => TypeFaces.Missing(t.Text)).Distinct(StringComparer.Ordinal).ToList();
        if (missing.Count > 0)
            yield return new Refusal(
                "transfer-letters",
                $"The text of piece {Code} has characters that cannot be printed: {string.Join(' ', missing)}. Write it without them, or bring it as a picture.",
                Code
            );
    }
}

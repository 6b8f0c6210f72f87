using PdfSharp.Drawing;

namespace ShopFloor.Documents.Pdf;

/// <summary>How the stored rows of a picture must be turned to be looked at (the EXIF tag Orientation, values 1–8).</summary>
public enum PictureTurn
{
    /// <summary>As stored.</summary>
    None = 1,

    /// <summary>Mirrored left to right.</summary>
    MirrorAcross = 2,

    /// <summary>Half a turn.</summary>
    Half = 3,

    /// <summary>Mirrored top to bottom.</summary>
    MirrorDown = 4,

    /// <summary>Rows become columns.</summary>
    Transpose = 5,

    /// <summary>A quarter turn clockwise.</summary>
    Right = 6,

    /// <summary>Mirrored about the other diagonal.</summary>
    Transverse = 7,

    /// <summary>A quarter turn anticlockwise.</summary>
    Left = 8,
}

/// <summary>
/// The body of a picture as it stands in the PDF: the entries of its dictionary without length, and the bytes that follow.
/// A part that belongs to it (profile, transparency) is a body of its own, named in the dictionary by <c>{0}</c>, <c>{1}</c>…;
/// <c>{rgb}</c> and <c>{grey}</c> stand for the document's own profiles.
/// </summary>
internal sealed record PictureBody(string Dictionary, long Length, Action<Stream> CopyTo)
{
    public IReadOnlyList<PictureBody> Parts { get; init; } = [];

    public static PictureBody Of(string dictionary, byte[] bytes) => new(dictionary, bytes.Length, target => target.Write(bytes));
}

/// <summary>
/// A picture that can be placed on sheets. The pixels go into the PDF as they are: JPEG data byte for byte, PNG data without loss;
/// nothing is resampled and the reader is told not to smooth.
/// </summary>
public sealed class PdfPicture
{
    private readonly Func<PictureBody> body;

    internal PdfPicture(int widthPx, int heightPx, PictureTurn turn, Func<PictureBody> body)
    {
        (StoredWidthPx, StoredHeightPx, Turn) = (widthPx, heightPx, turn);
        this.body = body;
    }

    /// <summary>Pixels in a stored row.</summary>
    public int StoredWidthPx { get; }

    /// <summary>Stored rows.</summary>
    public int StoredHeightPx { get; }

    /// <summary>How it must be turned to be looked at.</summary>
    public PictureTurn Turn { get; }

    /// <summary>Pixels across as looked at.</summary>
    public int WidthPx => Turn >= PictureTurn.Transpose ? StoredHeightPx : StoredWidthPx;

    /// <summary>Pixels down as looked at.</summary>
    public int HeightPx => Turn >= PictureTurn.Transpose ? StoredWidthPx : StoredHeightPx;

    internal PictureBody Body() => body();
}

/// <summary>A picture in one document: the library's stand-in image, whose object is replaced by the real one when the file is saved.</summary>
internal sealed class PlacedPicture(PdfPicture picture)
{
    /// <summary>A white PNG of one pixel.</summary>
    private static readonly byte[] Pixel = Convert.FromBase64String(
        "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAIAAACQd1PeAAAADElEQVR4nGP4//8/AAX+Av4N70a4AAAAAElFTkSuQmCC"
    );

    public PdfPicture Picture { get; } = picture;

    public XImage StandIn { get; } = XImage.FromStream(new MemoryStream(Pixel));

    /// <summary>The stand-in's object, known once it was drawn.</summary>
    public PdfSharp.Pdf.PdfItem? Object { get; set; }
}

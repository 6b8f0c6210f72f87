namespace ShopFloor.Domain.Orders;

/// <summary>What is known of a picture whose bytes are kept outside the database under its id.</summary>
public sealed class KeptPicture
{
    private KeptPicture() { }

    /// <summary>A picture that came in.</summary>
    public KeptPicture(
        PictureId id,
        string format,
        int widthPixels,
        int heightPixels,
        long bytes,
        string sha256,
        string name,
        DateTimeOffset at
    )
    {
        (Id, Format, WidthPixels, HeightPixels, Bytes, Sha256, Name, At) = (id, format, widthPixels, heightPixels, bytes, sha256, name, at);
    }

    /// <summary>Names it and its files.</summary>
    public PictureId Id { get; private set; }

    /// <summary><c>jpeg</c>, <c>png</c>, <c>webp</c> …</summary>
    public string Format { get; private set; } = "";

    /// <summary>Pixels across, turned upright.</summary>
    public int WidthPixels { get; private set; }

    /// <summary>Pixels down, turned upright.</summary>
    public int HeightPixels { get; private set; }

    /// <summary>Size of the original.</summary>
    public long Bytes { get; private set; }

    /// <summary>Of the original, hex.</summary>
    public string Sha256 { get; private set; } = "";

    /// <summary>The file's name as the person had it; shown encoded, never used as a path.</summary>
    public string Name { get; private set; } = "";

    /// <summary>When it came in, UTC.</summary>
    public DateTimeOffset At { get; private set; }
}

namespace ShopFloor.Domain.Workshop;

/// <summary>The picture on the workshop's letters; without one its name stands there in large type.</summary>
public sealed record WorkshopLogo
{
    /// <summary>The most bytes that are taken: every kept invoice carries a copy.</summary>
    public const int MostBytes = 2_000_000;

    /// <summary>The most pixels that are taken.</summary>
    public const long MostPixels = 16_000_000;

    /// <summary>Names the kept picture; null for none.</summary>
    public PictureId? Picture { get; init; }

    /// <summary>The file's name on the sender's device, for showing only.</summary>
    public string Name { get; init; } = "";
}

using ShopFloor.Domain.Pieces;

namespace ShopFloor.Domain.Workshop;

/// <summary>Limits by which pieces and pictures are judged: the owner's own numbers. The shipped ones are common practice, no source.</summary>
public sealed record WorkLimits
{
    /// <summary>How far ovens and presses may run over their set point, K.</summary>
    public decimal OvershootKelvin { get; init; } = 10m;

    /// <summary>Margin inside the edge of a face for everything important, mm; on small faces a tenth of the shorter side.</summary>
    public decimal SafeMarginMillimetres { get; init; } = 3m;

    /// <summary>Pixels per printed inch below which a picture counts as coarse, however far away it is looked at.</summary>
    public decimal FloorPpi { get; init; } = 100m;

    /// <summary>From how far a piece is looked at, mm.</summary>
    public decimal ViewedFromMillimetres { get; init; } = 400m;

    /// <summary>Reworks after which a piece is not sanded back again.</summary>
    public int MostReworks { get; init; } = Piece.UsualReworks;

    /// <summary>What is wrong, beside its field; empty when sound.</summary>
    public IReadOnlyList<Refusal> Check()
    {
        var faults = new List<Refusal>();
        void Must(bool ok, string field, string text)
        {
            if (!ok)
                faults.Add(new Refusal("profile", text, field));
        }
        Must(OvershootKelvin is >= 0 and <= 50, nameof(OvershootKelvin), "Between 0 and 50 K.");
        Must(SafeMarginMillimetres is >= 0 and <= 50, nameof(SafeMarginMillimetres), "Between 0 and 50 mm.");
        Must(FloorPpi is >= 30 and <= 600, nameof(FloorPpi), "Between 30 and 600 pixels per inch.");
        Must(ViewedFromMillimetres is >= 100 and <= 10_000, nameof(ViewedFromMillimetres), "Between 100 and 10,000 mm.");
        Must(MostReworks is >= 0 and <= 10, nameof(MostReworks), "Between 0 and 10 times.");
        return faults;
    }
}

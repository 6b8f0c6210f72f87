namespace ShopFloor.Domain.Pricing;

/// <summary>What goes into a price besides rates and rule, until measured values replace it. All of it the owner's; shipped values are common practice, no source.</summary>
public sealed record PriceInputs
{
    /// <summary>Paper and ink of a transfer, for a square centimetre.</summary>
    public decimal TransferPerSquareCentimetre { get; init; } = 0.004m;

    /// <summary>Tape, protective sheet and wipes for a piece.</summary>
    public decimal ConsumablesPerPiece { get; init; } = 0.35m;

    /// <summary>Looking at the picture, proof and set-up for a line, seconds.</summary>
    public int SecondsPerLine { get; init; } = 300;

    /// <summary>Share of the oven that one load usually fills, above 0 to 1.</summary>
    public decimal UsualOvenFill { get; init; } = 0.5m;

    /// <summary>Share of the platen that one session usually fills, above 0 to 1.</summary>
    public decimal UsualPlatenFill { get; init; } = 0.4m;

    /// <summary>Share of the time that a heater draws its power, %.</summary>
    public decimal HeaterDutyPercent { get; init; } = 45;

    /// <summary>Chance of spoiling a piece where nothing was measured, 0 to 0.9.</summary>
    public decimal UsualLoss { get; init; } = 0.04m;

    /// <summary>Most that is paid for a spoiled own piece: the limit of liability.</summary>
    public decimal MostLiability { get; init; } = 150m;

    /// <summary>True: measured minutes and losses take the place of the recipes' and of <see cref="UsualLoss"/> once there are enough.</summary>
    public bool UseMeasured { get; init; } = true;

    /// <summary>What is wrong, beside its field; empty when sound.</summary>
    public IReadOnlyList<Refusal> Check()
    {
        var faults = new List<Refusal>();
        void Must(bool ok, string field, string text)
        {
            if (!ok)
                faults.Add(new Refusal("out-of-range", text, field));
        }
        Must(
            TransferPerSquareCentimetre is >= 0 and <= 10,
            nameof(TransferPerSquareCentimetre),
            "Paper and ink cost between 0 and 10 for a cm²."
        );
        Must(ConsumablesPerPiece is >= 0 and <= 1000, nameof(ConsumablesPerPiece), "Consumables cost between 0 and 1,000 a piece.");
        Must(SecondsPerLine is >= 0 and <= 86_400, nameof(SecondsPerLine), "Set-up takes between 0 and 86,400 seconds.");
        Must(UsualOvenFill is > 0 and <= 1, nameof(UsualOvenFill), "The oven's usual filling is above 0 and at most 1.");
        Must(UsualPlatenFill is > 0 and <= 1, nameof(UsualPlatenFill), "The platen's usual filling is above 0 and at most 1.");
        Must(HeaterDutyPercent is >= 0 and <= 100, nameof(HeaterDutyPercent), "The heater's duty is between 0 and 100 %.");
        Must(UsualLoss is >= 0 and <= 0.9m, nameof(UsualLoss), "The usual loss is between 0 and 0.9.");
        Must(MostLiability is >= 0 and <= 100_000, nameof(MostLiability), "The limit of liability is between 0 and 100,000.");
        return faults;
    }

    /// <summary>Pieces that share a load or a session of that many square millimetres, at least 1.</summary>
    /// <param name="spaceSquareMillimetres">Room of all shelves, or of the platen.</param>
    /// <param name="pieceSquareMillimetres">Bounding box of a piece and its gap.</param>
    /// <param name="fill">Share that is usually filled.</param>
    public static decimal Members(decimal spaceSquareMillimetres, decimal pieceSquareMillimetres, decimal fill) =>
        pieceSquareMillimetres <= 0 ? 1 : Math.Max(1, Math.Floor(spaceSquareMillimetres * fill / pieceSquareMillimetres));
}
